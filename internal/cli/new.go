package cli

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"strconv"
	"strings"
	"time"

	"github.com/spf13/cobra"

	"tideover/internal/interview"
	"tideover/internal/quantity"
	"tideover/internal/shelf"
	"tideover/internal/takeoff"
	"tideover/internal/words"
)

// newNew is the interview: one question at a time on a terminal, one flag for each
// question elsewhere. now tells the date of the job where no flag does.
func newNew(s streams, now func() time.Time) *cobra.Command {
	var (
		l                    loader
		out, prices          string
		force, noInput, call bool
	)
	given := map[string]*string{}
	c := &cobra.Command{
		Use:     "new -o FILE",
		Short:   words.Say("cli.new.short", nil),
		Long:    words.Say("cli.new.long", nil),
		Example: "  " + words.Say("cli.new.example", nil) + "\n  " + words.Say("cli.new.example.call", nil),
		Args:    cobra.NoArgs,
		RunE: func(c *cobra.Command, _ []string) error {
			if out == "" && !call {
				return usage(c, words.Say("cli.usage.new", words.Args{"example": words.Say("cli.new.example", nil)}))
			}
			if err := vacant(out, force); err != nil {
				return err
			}
			cat, err := l.catalogue()
			if err != nil {
				return err
			}
			if l.date == "" {
				l.date = now().Format(time.DateOnly)
			}
			v := interview.New(cat, l.date)
			answers := interview.Answers{}
			for id, text := range given {
				if c.Flags().Changed(id) {
					answers[id] = *text
				}
			}
			if !noInput && s.terminal() {
				if answers, err = s.ask(v, answers, call); err != nil {
					return err
				}
			}
			if call {
				return s.told(c.Context(), v, answers, out, prices, &l)
			}
			return s.write(c.Context(), v, answers, out)
		},
	}
	l.flags(c)
	c.Flags().StringVarP(&out, "output", "o", "", words.Say("cli.flag.new-out", nil))
	c.Flags().BoolVarP(&force, "force", "f", false, words.Say("cli.flag.force", nil))
	c.Flags().BoolVar(&noInput, "no-input", false, words.Say("cli.flag.no-input", nil))
	c.Flags().BoolVar(&call, "call", false, words.Say("cli.flag.call", nil))
	c.Flags().StringVar(&prices, "prices", "", words.Say("cli.flag.new-prices", nil))
	for _, q := range interview.Flags() {
		given[q.ID] = c.Flags().String(q.ID, "", q.Text())
	}
	return c
}

// vacant refuses to write over a file that is there.
func vacant(out string, force bool) error {
	if out == "" || out == "-" || force {
		return nil
	}
	if _, err := shelf.ReadFile(out, fileLimit); !errors.Is(err, fs.ErrNotExist) {
		return errors.New(words.Say("cli.new.there", words.Args{"file": out}))
	}
	return nil
}

// terminal reports whether somebody sits at the input. The null device is one of
// characters too, and nobody sits there.
func (s streams) terminal() bool {
	f, ok := s.in.(*os.File)
	if !ok {
		return false
	}
	info, err := f.Stat()
	if err != nil || info.Mode()&os.ModeCharDevice == 0 {
		return false
	}
	null, err := os.Stat(os.DevNull)
	return err != nil || !os.SameFile(info, null)
}

// ask puts the questions one after the other on standard error. "?" explains, "<" goes
// back, "-" says nobody knows, an empty line takes the ordinary home's answer.
func (s streams) ask(v *interview.Interview, a interview.Answers, call bool) (interview.Answers, error) {
	in := bufio.NewScanner(io.LimitReader(s.in, fileLimit))
	fmt.Fprintln(s.err, words.Say("cli.new.how", nil))
	for i := 0; ; {
		list := v.Questions(a)
		if call {
			list = v.Call()
		}
		if i >= len(list) {
			return a, nil
		}
		q := list[i]
		s.put(q, i+1, len(list))
		if !in.Scan() {
			return nil, errors.New(words.Say("cli.new.ended", nil))
		}
		switch text := strings.TrimSpace(in.Text()); text {
		case "?":
			s.explain(q)
		case "<":
			i = max(i-1, 0)
		default:
			kept, err := q.Check(text, systemOf(a))
			if err != nil {
				fmt.Fprint(s.err, wrapped(err.Error(), "  ! ", "    ", width))
				continue
			}
			a[q.ID] = kept
			i++
		}
	}
}

// put shows a question with its options.
func (s streams) put(q interview.Question, n, all int) {
	fmt.Fprintf(s.err, "\n%s %s\n", words.Say("cli.new.number", words.Args{"n": strconv.Itoa(n), "all": strconv.Itoa(all)}), q.Text())
	for _, o := range q.Options {
		fmt.Fprintf(s.err, "    %-18s %s\n", o, q.Option(o))
	}
	fmt.Fprint(s.err, "  > ")
}

func (s streams) explain(q interview.Question) {
	fmt.Fprint(s.err, wrapped(q.Hint(), "  ", "  ", width), wrapped(words.Say("cli.new.unknown", words.Args{"what": q.IfUnknown()}), "  ", "  ", width))
}

func systemOf(a interview.Answers) quantity.System {
	sys, err := quantity.ParseSystem(a["units"])
	if err != nil {
		return quantity.Metric
	}
	return sys
}

// write builds the job and writes its file.
func (s streams) write(ctx context.Context, v *interview.Interview, a interview.Answers, out string) error {
	d, err := v.Build(ctx, a)
	if err != nil {
		return err
	}
	if out == "-" {
		_, err := s.out.Write(d.Source)
		return err
	}
	if err := shelf.SaveAtomic(out, d.Source); err != nil {
		return err
	}
	fmt.Fprint(s.err, wrapped(headline(d.Appraisal), "", "", width))
	fmt.Fprintln(s.err, words.Say("cli.new.wrote", words.Args{"file": out, "n": strconv.Itoa(len(d.Notes))}))
	return nil
}

// told says what a first call comes to: whether it can be done, about how many litres,
// what it may cost where the caller has prices, and what to have ready for the visit.
func (s streams) told(ctx context.Context, v *interview.Interview, a interview.Answers, out, prices string, l *loader) error {
	o, err := v.Outlook(ctx, a)
	if err != nil {
		return err
	}
	if o.No != nil {
		fmt.Fprint(s.out, wrapped(words.Say("cli.call.no", nil), "", "", width)+wrapped(o.No.Error(), "", "", width))
		return errMustFix
	}
	d := o.Draft
	sys := d.Appraisal.Job.System()
	c := &d.Appraisal.Job.Choices
	var b strings.Builder
	if o.Open == nil {
		b.WriteString(wrapped(words.Say("cli.call.go", nil), "", "", width))
	} else {
		b.WriteString(wrapped(words.Say("cli.call.open", words.Args{
			"question": words.Say("ask."+o.Open.Question+".name", nil),
			"works":    options(o.Open.Question, o.Open.Works), "fail": options(o.Open.Question, o.Open.Fail)}), "", "", width))
	}
	if st := d.Appraisal.Store; st != nil {
		b.WriteString(wrapped(words.Say("cli.call.size", words.Args{
			"usable": quantity.Format(quantity.Quantity{Dim: quantity.VolumeDim, SI: float64(st.Usable), Half: 0.3 * float64(st.Usable)}, sys),
			"carry":  quantity.Format(quantity.Quantity{Dim: quantity.TimeDim, SI: float64(st.Carry), Half: 0.3 * float64(st.Carry)}, sys),
			"store":  c.Store, "count": strconv.Itoa(int(c.Stores.V)), "pump": c.Pump}), "", "", width))
	}
	if prices != "" {
		band, err := l.band(d, prices)
		if err != nil {
			return err
		}
		b.WriteString(wrapped(band, "", "", width))
	}
	b.WriteString("\n" + words.Say("cli.call.guesses", words.Args{"n": strconv.Itoa(len(d.Notes))}) + "\n")
	b.WriteString(words.Say("cli.call.measure", nil) + "\n")
	for _, id := range []string{"rest", "evening"} {
		b.WriteString(wrapped(words.Say("cli.call.measure."+id, nil), "  · ", "    ", width))
	}
	b.WriteString(words.Say("cli.call.ready", nil) + "\n")
	for _, id := range []string{"access", "gate", "photos", "plate", "who", "log"} {
		b.WriteString(wrapped(words.Say("cli.call.ready."+id, nil), "  · ", "    ", width))
	}
	if _, err := io.WriteString(s.out, b.String()); err != nil || out == "" || out == "-" {
		return err
	}
	if err := shelf.SaveAtomic(out, d.Source); err != nil {
		return err
	}
	fmt.Fprintln(s.err, words.Say("cli.new.wrote", words.Args{"file": out, "n": strconv.Itoa(len(d.Notes))}))
	return nil
}

// options names answers to a question in the words it is asked in.
func options(question string, keys []string) string {
	list := make([]string, len(keys))
	for i, key := range keys {
		list[i] = words.Say("ask."+question+"."+key, nil)
	}
	return strings.Join(list, "; ")
}

// scatter is how far a first guess of the parts lies from what is bought in the end, each
// way. Judgement.
const scatter = 0.3

// band is what the parts may cost by the caller's own price list.
func (l *loader) band(d *interview.Draft, prices string) (string, error) {
	csv, err := shelf.ReadFile(prices, fileLimit)
	if err != nil {
		return "", err
	}
	cat, err := l.catalogue()
	if err != nil {
		return "", err
	}
	list, currency, err := takeoff.ReadPrices(prices, csv, cat)
	if err != nil {
		return "", err
	}
	buy := takeoff.Make(d.Appraisal.Assembly, cat, list, currency)
	money := func(share float64) string { return fmt.Sprintf("%.0f %s", share*float64(buy.Total), currency) }
	return words.Say("cli.call.price", words.Args{"low": money(1 - scatter), "high": money(1 + scatter), "unpriced": strconv.Itoa(buy.Unpriced)}), nil
}
