package cli

import (
	"errors"
	"fmt"
	"os"
	"syscall"

	"tideover/internal/words"
)

// progress reports long work on a terminal, one line rewritten; elsewhere it is silent.
func (s streams) progress() func(done, total int) {
	line := s.rewritten()
	if line == nil {
		return nil
	}
	last := -1
	return func(done, total int) {
		tenth := done * 10 / total
		if tenth == last {
			return
		}
		last = tenth
		line(words.Say("cli.progress", words.Args{"done": fmt.Sprint(done), "total": fmt.Sprint(total)}))
		if done == total {
			line("")
		}
	}
}

// rewritten writes one line of a terminal over and over; nil where there is none.
func (s streams) rewritten() func(text string) {
	f, ok := s.err.(*os.File)
	if !ok {
		return nil
	}
	if info, err := f.Stat(); err != nil || info.Mode()&os.ModeCharDevice == 0 || os.Getenv("TERM") == "dumb" {
		return nil
	}
	return func(text string) { fmt.Fprintf(f, "\r%s\x1b[K", text) }
}

// brokenPipe reports whether writing failed because the reader went away.
func brokenPipe(err error) bool { return errors.Is(err, syscall.EPIPE) }
