package seasons

import (
	"context"
	"math"
	"testing"

	"tideover/internal/demand"
)

// told is a supply whose spells are listed.
type told struct{ off, weak, dark []Spell }

func (s told) Future(uint32) Future { return s }

func in(list []Spell, dst []Spell, year int) []Spell {
	for _, s := range list {
		if s.From >= float64(year)*Year && s.From < float64(year+1)*Year {
			dst = append(dst, s)
		}
	}
	return dst
}
func (s told) Off(dst []Spell, year int) []Spell  { return in(s.off, dst, year) }
func (s told) Weak(dst []Spell, year int) []Spell { return in(s.weak, dst, year) }
func (s told) Dark(dst []Spell, year int) []Spell { return in(s.dark, dst, year) }

func hours(from, to float64) []Spell { return []Spell{{From: from * Hour, To: to * Hour}} }

// drips draws 12 L/h in small even draws, so that what is short can be told to a few per cent.
func drips(t testing.TB, line demand.Line) *demand.Home {
	return home(t, demand.Household{People: 1, Scale: 1, Uses: []demand.Use{use(24*60, 0.2, 0.05, line)}})
}

func year(t *testing.T, in *Input) Count {
	t.Helper()
	in.Years = 1
	return chunk(t, worker(t, in), 1).Stores[0]
}

// TestHandWaits: nobody is there from 8 to 18. Water fails at 10 and comes back at 22 of one
// day, and fails from 9 to 15 of another: the first time the taps are dry for 8 h, then the store
// serves until somebody has turned back; the second time nobody comes at all.
func TestHandWaits(t *testing.T) {
	day := 24.0
	in := input(drips(t, demand.Either), told{off: append(hours(10, 22), hours(3*day+9, 3*day+15)...)}, tanks(100, 1000))
	in.Change = ByHand
	for m := range in.Hand.There {
		h := m / 60
		in.Hand.There[m] = h%24 < 8 || h%24 >= 18
	}
	in.Hand.Least, in.Hand.Most = 600, 600
	c := year(t, in)
	near(t, "litres short", c.Short*1000, 12*(8+1.0/6+6), 12)
	near(t, "litres from the store", c.Out*1000, 12*4, 12)
	near(t, "outages", c.Outages, 2, 0)
	near(t, "ridden out", c.Ridden, 0, 0)
	near(t, "empty", c.Empty, 0, 0)

	for h := range in.Hand.There {
		in.Hand.There[h] = true
	}
	in.Hand.Least, in.Hand.Most = 0, 0
	c = year(t, in)
	near(t, "ridden out by a watchman", c.Ridden, 2, 0)
	near(t, "litres short", c.Short, 0, 0)
}

// TestPower: without power the store serves as long as the battery lasts, which charges at half
// the pace; a raised store does not mind.
func TestPower(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(100, 124), dark: append(hours(100, 106), hours(110, 114)...)}, tanks(100, 1000))
	in.Pump = Pump{Needs: true, Battery: 3 * Hour, Recharge: 0.5}
	c := year(t, in)
	// The first cut: 3 h on the battery, 3 h dry. Four hours charge it by 2 h: then 2 h dry.
	near(t, "litres short", c.Short*1000, 12*5, 8)
	near(t, "ridden out", c.Ridden, 0, 0)
	near(t, "empty", c.Empty, 0, 0)
	in.Pump.Needs = false
	if c = year(t, in); c.Short != 0 || c.Ridden != 1 {
		t.Errorf("raised: short %g m³, ridden out %g", c.Short, c.Ridden)
	}
}

// TestSplitHome: kitchen on the main, the rest out of the store: an outage takes the kitchen's
// water, which no store gives back; the rest goes through the store all the year.
func TestSplitHome(t *testing.T) {
	kitchen, rest := use(24*60, 0.1, 0.05, demand.OnMain), use(24*60, 0.2, 0.05, demand.OnStore)
	in := input(home(t, demand.Household{People: 1, Scale: 1, Uses: []demand.Use{kitchen, rest}}), told{off: hours(1000, 1100)}, tanks(100, 2000))
	in.Change, in.Years = Never, 1
	y := chunk(t, worker(t, in), 1)
	near(t, "short at the kitchen", y.Main*1000, 6*100, 40)
	near(t, "short at the rest", y.Stores[0].Short, 0, 0)
	near(t, "through the store", y.Stores[0].Out, 0.012*8760, 0.012*8760*0.01)
	near(t, "ridden out", y.Stores[0].Ridden, 1, 0)
	if e := y.Stores[0].balance(); e > 1e-9 {
		t.Errorf("balance misses %g", e)
	}
}

// TestWeakSpell: in a weak spell the automatic changeover takes the store, and what little comes
// fills it meanwhile: 12 L/h out, 5 in.
func TestWeakSpell(t *testing.T) {
	in := input(drips(t, demand.Either), told{weak: hours(500, 600)}, tanks(100, 1000))
	in.Mains = append(in.Mains, Main{Head: 5})
	in.Weak = 2
	in.Stores[0].Fill = append(in.Stores[0].Fill, []float64{5 / 3.6e6})
	w, low := worker(t, in), lowest{1}
	in.Years = 1
	y, err := w.Chunk(context.Background(), 1, &low, 0)
	if err != nil {
		t.Fatal(err)
	}
	near(t, "lowest level", low.level*1000, 1000-7*100, 30)
	near(t, "outages", y.Stores[0].Outages, 0, 0)
}

// lingers is a main that comes back weak for six hours.
type lingers struct{ told }

func (l lingers) Future(uint32) Future  { return l }
func (l lingers) Lingers(Spell) float64 { return 6 * Hour }

// TestWeakAfter: the main comes back weak after each interruption and stays so: the store is
// drawn as long again; told one by one, the weak spells come to the same.
func TestWeakAfter(t *testing.T) {
	life := func(change func(*Input)) Count {
		in := input(drips(t, demand.Either), told{off: append(hours(500, 520), hours(8755, 8762)...)}, tanks(100, 1000))
		in.Mains = append(in.Mains, Main{Head: 5})
		in.Weak = 2
		in.Stores[0].Fill = append(in.Stores[0].Fill, []float64{0})
		change(in)
		in.Years = 2
		return chunk(t, worker(t, in), 1).Stores[0]
	}
	after := life(func(in *Input) { in.WeakAfter = 6 * Hour })
	near(t, "litres from the store", after.Out*1000, 12*(20+6+7+6), 25)
	one := life(func(in *Input) {
		in.Supply = told{off: append(hours(500, 520), hours(8755, 8762)...), weak: append(hours(520, 526), hours(8762, 8768)...)}
	})
	if linger := life(func(in *Input) { in.Supply = lingers{in.Supply.(told)} }); linger != after {
		t.Errorf("%+v, of a main that lingers %+v", after, linger)
	}
	if after != one {
		t.Errorf("%+v, told one by one %+v", after, one)
	}
}

type lowest struct{ level float64 }

func (l *lowest) See(s *Span) { l.level = math.Min(l.level, s.After) }

// TestRationing: who rations lasts longer, on the very same outages.
func TestRationing(t *testing.T) {
	plain, careful := town(t, 4, Automatic), town(t, 4, Automatic)
	careful.Ration = [2]float64{0.5, 0.2}
	a, b := lives(t, plain, 8), lives(t, careful, 8)
	for i := range a.Stores {
		if b.Stores[i].Total.Short > a.Stores[i].Total.Short || b.Stores[i].Total.Ridden < a.Stores[i].Total.Ridden {
			t.Errorf("store %d: rationing does worse", i)
		}
	}
	if a.Stores[4].Total.Short < 1.2*b.Stores[4].Total.Short {
		t.Errorf("rationing saves nothing: %g against %g m³", b.Stores[4].Total.Short, a.Stores[4].Total.Short)
	}
}

// TestRoutine: running the home on the store one day in seven sends that share of its water
// through; emptying a fifth first spills it; neither makes a litre short.
func TestRoutine(t *testing.T) {
	in := input(drips(t, demand.Either), told{}, tanks(100, 1000))
	in.Routine = Routine{Every: 7 * Day, At: 9 * Hour, Lasts: 24 * Hour, Dump: 0.2}
	c := year(t, in)
	near(t, "through the store", c.Out*1000, 12*24*52, 12*24*52*0.02)
	near(t, "emptied", c.Spilled*1000, 200*53, 1)
	near(t, "short", c.Short, 0, 0)
	if e := c.balance(); e > 1e-9 {
		t.Errorf("balance misses %g", e)
	}
}

// TestWeep: a float valve that passes water sends it over the overflow whenever the store is
// full and the main presses.
func TestWeep(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(0, 100)}, tanks(100, 5000))
	in.Stores[0].Weep = 2 / 3.6e6
	c := year(t, in)
	near(t, "spilled", c.Spilled*1000, 2*(8760-100-12), 2)
	near(t, "balance", c.balance(), 0, 1e-9)
}

// TestInTurn: two stores in turn give as much as one of both, and the lead changes with each
// refill.
func TestInTurn(t *testing.T) {
	in := town(t, 4, Automatic)
	in.Stores = in.Stores[2:4]
	in.Stores[1] = in.Stores[0]
	in.Stores[1].InTurn = true
	w := worker(t, in)
	var l leads
	y, err := w.Chunk(context.Background(), 1, &l, 1)
	if err != nil {
		t.Fatal(err)
	}
	if y.Stores[0] != y.Stores[1] {
		t.Error("two in turn count other than linked")
	}
	if l.turned < 20 {
		t.Errorf("the lead changed %d times in a year", l.turned)
	}
	if a, b := Halves(0.3, 0.4, 0); math.Abs(a-0.1) > 1e-15 || b != 0.2 {
		t.Errorf("0.3 of 0.4 m³: %g and %g", a, b)
	}
}

type leads struct {
	lead   uint8
	turned int
}

func (l *leads) See(s *Span) {
	if s.Lead != l.lead {
		l.lead = s.Lead
		l.turned++
	}
}

// TestCarryTimes: a full store lasts its litres over the draw, a bigger one longer, whatever the
// hour; and from the evening shorter of night than from the morning.
func TestCarryTimes(t *testing.T) {
	in := input(drips(t, demand.Either), told{}, tanks(100, 240, 120))
	list, err := worker(t, in).CarryTimes(context.Background(), 3)
	if err != nil {
		t.Fatal(err)
	}
	for h := range 24 {
		near(t, "240 L at 12 L/h", list[0][h].Median/Hour, 20, 0.7)
		near(t, "120 L at 12 L/h", list[1][h].Median/Hour, 10, 0.6)
		if c := list[0][h]; !(c.Short <= c.Median && c.Median <= c.Long && c.Median > list[1][h].Median) {
			t.Errorf("hour %d: %v", h, c)
		}
	}
	in = town(t, 4, Automatic)
	if list, err = worker(t, in).CarryTimes(context.Background(), 3); err != nil {
		t.Fatal(err)
	}
	if night, morning := list[1][23].Median, list[1][6].Median; night < morning+4*Hour {
		t.Errorf("200 L last %g h from 23:00 and %g h from 06:00", night/Hour, morning/Hour)
	}
}

// TestReading: window, knee and what more litres buy, off a run.
func TestReading(t *testing.T) {
	a := lives(t, town(t, 4, Automatic), 24)
	for _, o := range a.Stores {
		if v := o.By[RideThrough].Value; !(o.Next[RideThrough].Low <= v && v <= o.Next[RideThrough].High && o.Next[RideThrough].High <= 1) {
			t.Errorf("nine futures in ten lie in %v, the mean is %g", o.Next[RideThrough], v)
		}
	}
	knee, ok := a.Knee()
	if !ok || knee == 0 || knee == len(a.Stores)-1 {
		t.Errorf("knee at %d, %v", knee, ok)
	}
	first, last, ok := a.Window(0.9, func(i int) bool { return a.Stores[i].Usable < 2.1 })
	if !ok || first < 3 || a.Stores[last].Usable != 2 {
		t.Errorf("window %d to %d, %v", first, last, ok)
	}
	if _, _, ok := a.Window(0.9, func(i int) bool { return i < 2 }); ok {
		t.Error("a window where none is")
	}
	small, ok1 := a.More(1, 0.1)
	large, ok2 := a.More(len(a.Stores)-3, 0.1)
	if !ok1 || !ok2 || small.Value <= large.Value || small.Low > small.Value {
		t.Errorf("100 L more buy %v at 200 L and %v at 2000 L", small, large)
	}
	if _, ok := a.More(len(a.Stores)-1, 0.1); ok {
		t.Error("more than the largest")
	}
	if a.Stores[0].By[EmptyYear].Value < 2*a.Stores[0].By[UnservedYear].Value {
		t.Error("hours empty and hours unserved are about the same: taps cannot be open all the time")
	}
}

// TestCarryOfHomes: homes that draw 0.6 to 1.4 of 12 L an hour empty 240 L, by hand, in
// 20 h over that share: half of them in 20 h or less, one in twenty in less than 20/1.36 =
// 14.7 h, one in twenty in more than 20/0.64 = 31.3 h.
func TestCarryOfHomes(t *testing.T) {
	h := drips(t, demand.Either).Household
	h.Below, h.Above = 0.4, 0.4
	in := input(home(t, h), told{}, tanks(100, 240))
	list, err := worker(t, in).CarryTimes(context.Background(), 3)
	if err != nil {
		t.Fatal(err)
	}
	c := list[0][12]
	near(t, "one in twenty less than", c.Short/Hour, 20/1.36, 1)
	near(t, "half less than", c.Median/Hour, 20, 2)
	near(t, "one in twenty more than", c.Long/Hour, 20/0.64, 2.5)
}

// TestRoutineGivesWay: a routine is for days on which the main serves. Where it falls into an
// interruption of 100 h, the home hangs on the store as in any other: 100 L last 8 1/3 h, and every
// litre after that is short.
func TestRoutineGivesWay(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(2, 102)}, tanks(100, 100))
	in.Routine = Routine{Every: 7 * Day, At: 9 * Hour, Lasts: 24 * Hour}
	c := year(t, in)
	near(t, "litres short", c.Short*1000, 12*(100-100.0/12), 30)
	near(t, "empty", c.Empty, (100-100.0/12)*Hour, 2*Hour)
}

// TestFineIsWhoWentShortOfNothing: one person; an interruption from 16 h of a day to 20 h of the
// fourth day after it fails on five days; 100 L last 8 1/3 h, past the first midnight: one day of the
// five is fine.
func TestFineIsWhoWentShortOfNothing(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(1000, 1100)}, tanks(100, 100))
	c := year(t, in)
	near(t, "days on which the main failed", c.PersonDays, 5, 0)
	near(t, "of them fine", c.Fine, 1, 0)
}

// TestBatteryHours: each future has a battery of its own between the ends, by the logarithm any
// alike; one with no range is what it was.
func TestBatteryHours(t *testing.T) {
	in := input(drips(t, demand.Either), told{off: hours(100, 124)}, tanks(100, 1000))
	in.Pump = Pump{Needs: true, Battery: Hour, Most: 16 * Hour, Recharge: 0.5}
	under, n := 0, 4000
	for k := range n {
		h := in.BatteryHours(uint32(k))
		if h < Hour || h > 16*Hour {
			t.Fatalf("%g h", h/Hour)
		}
		if h < 4*Hour {
			under++
		}
	}
	near(t, "below the middle of the logarithm", float64(under)/float64(n), 0.5, 0.03)
	in.Pump.Most = 0
	near(t, "no range", in.BatteryHours(7), Hour, 0)
}
