package assembly

import (
	"errors"
	"strings"

	"tideover/internal/catalogue"
	"tideover/internal/words"
)

// Fault is a reason why nothing can be laid out, with the place in the job that causes it.
type Fault struct {
	Path string // of the job: "choices.pump.row"
	ID   string // message id
	Args words.Args
}

// Error gives "path: sentence".
func (f *Fault) Error() string { return f.Path + ": " + words.Say(f.ID, f.Args) }

// Faults is every fault of one layout; Build returns it as its error.
type Faults []*Fault

// Error gives one fault a line.
func (f Faults) Error() string {
	lines := make([]string, len(f))
	for i, one := range f {
		lines[i] = one.Error()
	}
	return strings.Join(lines, "\n")
}

// Unwrap gives the faults one by one to errors.As.
func (f Faults) Unwrap() []error {
	all := make([]error, len(f))
	for i, one := range f {
		all[i] = one
	}
	return all
}

// fault notes a fault once.
func (b *build) fault(path, id string, args words.Args) {
	f := &Fault{Path: path, ID: id, Args: args}
	for _, have := range b.faults {
		if have.Error() == f.Error() {
			return
		}
	}
	b.faults = append(b.faults, f)
}

// got notes a lookup's error as a fault at path and hands the row on.
func got[T any](b *build, path string) func(T, error) T {
	return func(row T, err error) T {
		var m *catalogue.Missing
		switch {
		case errors.As(err, &m):
			near := ""
			if m.Near != "" {
				near = " " + words.Say("catalogue.near", words.Args{"near": m.Near})
			}
			b.fault(path, "assembly.missing-row", words.Args{"table": m.Table, "key": m.Key, "hint": near})
		case err != nil:
			panic("assembly: lookup: " + err.Error())
		}
		return row
	}
}
