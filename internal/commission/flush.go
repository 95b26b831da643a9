package commission

import (
	"cmp"
	"slices"

	"tideover/internal/assembly"
	"tideover/internal/calc"
	"tideover/internal/disinfect"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/sitework"
)

// Flush is how one outlet is flushed before anybody drinks from it.
type Flush struct {
	Outlet string
	Pipe   quantity.Volume // of the pipe its water passes, from store or street on
	Flow   quantity.Flow
	Run    quantity.Volume // of water run away
	Time   quantity.Time   // +Inf without flow
	Dry    bool            // it gives no water in this mode, or nobody knows
	Calc   []calc.Step
}

// How outlets are flushed, for those who say so.
const (
	FlushTimes = sitework.FlushTimes
	FlushSpeed = sitework.FlushSpeed // m/s
)

// flush is how long each outlet runs, in the mode it is flushed in: on the store, else the
// first that runs.
func (c *Context) flush() (mode string, list []Flush) {
	m := c.flushMode()
	if m == nil {
		return "", nil
	}
	for i := range m.Alone {
		d := &m.Alone[i]
		pipe, work := c.pipeTo(d)
		f := sitework.Rinse(pipe, d.Flow)
		list = append(list, Flush{Outlet: d.Outlet, Pipe: pipe, Flow: d.Flow, Run: f.Volume, Time: f.Time,
			Dry: d.Flow <= 0 || !d.Certified, Calc: append(work, f.Calc.Steps...)})
	}
	slices.SortStableFunc(list, func(a, b Flush) int { return cmp.Compare(a.Pipe, b.Pipe) })
	return m.ID, list
}

func (c *Context) flushMode() *service.Mode {
	if c.Service == nil {
		return nil
	}
	if m := c.Service.Mode("on-store"); m != nil && m.Same == "" && len(m.Alone) > 0 {
		return m
	}
	for i := range c.Service.Modes {
		if m := &c.Service.Modes[i]; m.Same == "" && len(m.Alone) > 0 {
			return m
		}
	}
	return nil
}

// pipeTo is the water in the new and old pipes an outlet's water passes, from the store or
// the street on.
func (c *Context) pipeTo(d *service.Draw) (quantity.Volume, []calc.Step) {
	var s calc.Sheet
	total, seen := 0.0, map[string]bool{}
	for _, st := range d.Calc {
		i := c.Assembly.Index(st.Part)
		if st.Key != "" || i < 0 || seen[st.Part] {
			continue
		}
		seen[st.Part] = true
		part := &c.Assembly.Parts[i]
		if part.Kind == assembly.Store {
			total, s = 0, calc.Sheet{}
		}
		if row, ok := pipeOf(part); ok && part.Purpose != assembly.AsServiceRun {
			total += s.Eval(disinfect.PipeVolume, float64(row.Bore), float64(part.Length))
		}
	}
	return quantity.Volume(total), s.Steps
}
