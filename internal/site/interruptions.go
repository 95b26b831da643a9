package site

import (
	"math"
	"slices"

	"tideover/internal/job"
	"tideover/internal/quantity"
)

// Year is 365.25 days.
const Year quantity.Time = 365.25 * 86400

// Interruptions is when the main is off.
type Interruptions struct {
	// Kinds are the habit's clauses, each longer by its boil-water notice, in which the main
	// neither serves nor fills, and the gaps of the timetable by their length.
	Kinds []job.Spell

	Notice quantity.Time // how long a notice lasts from when the main is back; 0 none
	WCs    bool          // run on the main meanwhile

	// Round is how long a timetable takes to come round, and On how long the main is on in
	// it; both 0 without a timetable.
	Round, On quantity.Time

	Cuts []job.Spell // of power

	Weak bool // the main is weak for a time: in spells of its own, or once it is back

	Logged bool // Kinds are what the log comes to; nothing told counts then

	told  int        // of Kinds, those of the habit
	slots []job.Slot // of the timetable
	cycle int        // of it, in minutes
}

// InterruptionsOf is the interruptions of a job. A timetable's gaps of one length are one
// kind, however the days they stand on are called.
func InterruptionsOf(j *job.Job) Interruptions {
	in := Interruptions{Kinds: append([]job.Spell(nil), j.Interruptions.Habit...), Cuts: j.Cuts()}
	if in.Logged = len(j.Logged) > 0; in.Logged {
		in.Kinds = append([]job.Spell(nil), j.Logged...)
	}
	in.Weak = j.Interruptions.WeakAfter.V > 0 || len(j.Interruptions.Weak) > 0 ||
		slices.ContainsFunc(j.Interruptions.Habit, func(s job.Spell) bool { return s.Weak > 0 })
	in.Notice, in.WCs = NoticeOf(j), j.Interruptions.NoticeMain == "wc"
	for i := range in.Kinds {
		in.Kinds[i].Least += in.Notice
		in.Kinds[i].Most += in.Notice
	}
	in.told = len(in.Kinds)
	slots := j.Interruptions.Timetable
	if len(slots) == 0 || in.Logged {
		return in
	}
	cycle := minutesAWeek
	if slots[0].Cycle > 0 {
		cycle = slots[0].Cycle
	}
	in.Round, in.slots, in.cycle = quantity.Time(60*cycle), slots, cycle
	for i, s := range slots {
		in.On += quantity.Time(60 * (s.To - s.From))
		if gap := in.after(i); gap > 0 {
			in.gap(in.told, gap)
		}
	}
	return in
}

// after is how long the main is off after a slot of the timetable.
func (in *Interruptions) after(i int) quantity.Time {
	next := in.slots[(i+1)%len(in.slots)].From
	if i == len(in.slots)-1 {
		next += in.cycle
	}
	return quantity.Time(60 * max(0, next-in.slots[i].To))
}

// NoticeOf is how long the boil-water notice lasts that an interruption brings. 0 where none
// comes, or nobody knows of any. Rationing by a timetable brings none.
func NoticeOf(j *job.Job) quantity.Time {
	if j.Interruptions.Notice != job.Yes || len(j.Interruptions.Timetable) > 0 {
		return 0
	}
	return j.Interruptions.NoticeLasts.V
}

// NoticeFeared is how long a boil-water notice may last, at the most that is taken, where nobody
// said whether an interruption brings one. 0 where somebody did, or a timetable rations.
func NoticeFeared(j *job.Job) quantity.Time {
	if n := j.Interruptions.Notice; n == job.Yes || n == job.No || len(j.Interruptions.Timetable) > 0 {
		return 0
	}
	return j.Interruptions.NoticeLasts.V + j.Interruptions.NoticeLasts.Half
}

// gap counts a gap of a timetable: one more of its length in a round.
func (in *Interruptions) gap(from int, lasts quantity.Time) {
	perYear := float64(Year / in.Round)
	for i := from; i < len(in.Kinds); i++ {
		if in.Kinds[i].Most == lasts {
			in.Kinds[i].PerYear += perYear
			return
		}
	}
	in.Kinds = append(in.Kinds, job.Spell{PerYear: perYear, Least: lasts, Most: lasts})
}

// Mean is the mean length of an interruption of a kind.
func Mean(s job.Spell) quantity.Time { return (s.Least + s.Most) / 2 }

// Longest is the longest interruption told of, its notice counted in; 0 none.
func (in *Interruptions) Longest() quantity.Time {
	longest := quantity.Time(0)
	for _, s := range in.Kinds {
		longest = max(longest, s.Most)
	}
	return longest
}

// Usual is the kind of interruption that comes most often; false where no frequency was told.
func (in *Interruptions) Usual() (usual job.Spell, told bool) {
	for _, s := range in.Kinds {
		if s.PerYear > usual.PerYear {
			usual, told = s, true
		}
	}
	return usual, told
}

// Between is the time from the end of one interruption to the start of the next, on the
// average of all of which a frequency was told: what time there is to fill a store in. told
// is false where none was; 0 is told where what was told leaves no time.
func (in *Interruptions) Between() (between quantity.Time, told bool) {
	times, off := 0.0, 0.0
	for _, s := range in.Kinds {
		times += s.PerYear
		off += s.PerYear * float64(Mean(s))
	}
	if times == 0 {
		return 0, false
	}
	return quantity.Time(math.Max(0, float64(Year)-off) / times), true
}

// Dark is the length of the power cut that comes every other day or oftener; 0 none. Of
// several the longest counts.
func (in *Interruptions) Dark() quantity.Time {
	dark := quantity.Time(0)
	for _, s := range in.Cuts {
		if s.PerYear > 365.25/2 {
			dark = max(dark, Mean(s))
		}
	}
	return dark
}

// Rows reports whether there are interruptions that follow each other with nothing but hours of a
// weak main between.
func (in *Interruptions) Rows() bool {
	return slices.ContainsFunc(in.Kinds, inRow)
}

// inRow: what lies between two of a kind says how often it comes, where no number does.
func inRow(s job.Spell) bool { return s.Between && s.PerYear == 0 }

// Stops is the time of day at which a timetable turns the main off for the interruption that comes most
// often, the first of the round [s from midnight]; told is false where no timetable says it.
func (in *Interruptions) Stops() (at quantity.Time, told bool) {
	usual, _ := in.Usual()
	for i, s := range in.slots {
		if gap := in.after(i); gap > 0 && gap == usual.Most {
			return quantity.Time(60 * (s.To % minutesADay)), true
		}
	}
	return 0, false
}
