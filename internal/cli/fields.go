package cli

import (
	"fmt"
	"strings"

	"github.com/spf13/cobra"

	"tideover/internal/job"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

func newFields(s streams) *cobra.Command {
	return &cobra.Command{
		Use:     "fields [FIELD]",
		Short:   words.Say("cli.fields.short", nil),
		Long:    words.Say("cli.fields.long", nil),
		Example: "  " + words.Say("cli.fields.example", nil),
		Args:    cobra.MaximumNArgs(1),
		RunE: func(_ *cobra.Command, args []string) error {
			if len(args) == 0 {
				return listFields(s)
			}
			return explainFields(s, args[0])
		},
	}
}

// listFields prints every field with its label, a line each.
func listFields(s streams) error {
	var b strings.Builder
	for _, f := range job.Fields() {
		fmt.Fprintf(&b, "%-38s %s\n", f.Path, f.Label())
	}
	_, err := fmt.Fprint(s.out, b.String())
	return err
}

// explainFields prints all there is to say of the fields whose path begins so.
func explainFields(s streams, path string) error {
	var b strings.Builder
	for _, f := range job.Fields() {
		if f.Path == path || strings.HasPrefix(f.Path, path+".") {
			explain(&b, f)
		}
	}
	if b.Len() == 0 {
		hint := ""
		if near := job.NearestPath(path); near != "" {
			hint = words.Say("cli.fields.nearest", words.Args{"nearest": near})
		}
		return fmt.Errorf("%s", words.Say("cli.fields.none", words.Args{"path": path, "hint": hint}))
	}
	_, err := fmt.Fprint(s.out, b.String())
	return err
}

func explain(b *strings.Builder, f job.Field) {
	fmt.Fprintf(b, "%s\n", f.Path)
	for _, text := range []string{f.Label() + ".", f.Hint(), f.Why(), facts(f)} {
		if text != "" {
			b.WriteString(wrapped(text, "  ", "  ", width))
		}
	}
	b.WriteString("\n")
}

// facts is what the table holds of a field beside its three sentences.
func facts(f job.Field) string {
	need := "cli.fields.optional"
	if f.Required {
		need = "cli.fields.required"
	}
	parts := []string{words.Say(need, nil)}
	if f.Table != "" {
		parts = append(parts, words.Say("cli.fields.rows", words.Args{"table": f.Table}))
	}
	if len(f.Allowed) > 0 {
		parts = append(parts, words.Say("cli.fields.choices", words.Args{"choices": strings.Join(f.Allowed, ", ")}))
	}
	if f.Shape == job.Quantity {
		parts = append(parts,
			words.Say("cli.fields.accepts", words.Args{"example": quantity.Accepts(f.Dim, quantity.Metric)}),
			words.Say("cli.fields.between", words.Args{"low": bound(f.Dim, f.Low), "high": bound(f.Dim, f.High)}))
	}
	if f.Default != "" {
		parts = append(parts, words.Say("cli.fields.default", words.Args{"value": f.Default, "source": words.Say("source."+f.From, nil)}))
	}
	if d, ok := job.DoubtOf(f.Path); ok {
		parts = append(parts, words.Say("doubt.told", words.Args{"told": d.Told.Text(f.Dim, quantity.Metric), "guessed": d.Guessed.Text(f.Dim, quantity.Metric), "reason": d.Reason()}))
	}
	return strings.Join(parts, "; ") + "."
}

func bound(d quantity.Dim, si float64) string {
	return quantity.Format(quantity.Quantity{Dim: d, SI: si}, quantity.Metric)
}
