package appraise

import (
	"tideover/internal/assembly"
	"tideover/internal/circuit"
	"tideover/internal/quantity"
	"tideover/internal/service"
	"tideover/internal/years"
)

// gets is what every outlet gets of a main at a pressure and of the store, for the years: the
// same solves as those that the taps are judged by.
func gets(in Input, a *assembly.Assembly, ci *circuit.Circuit) years.Gets {
	given := service.Read(in.Job, a, in.Catalogue, in.Profile)
	return func(mains []quantity.Pressure) ([]years.Tap, string, error) {
		list, err := service.Reaches(ci, given, mains)
		if err != nil {
			return nil, "", err
		}
		blank := ""
		var taps []years.Tap
		for i := range list {
			r := &list[i]
			t := years.Tap{Outlet: r.Outlet, Store: r.Store.Served, Dark: r.Dark.Served}
			certain := r.Store.Judged && r.Dark.Judged
			for _, m := range r.Main {
				t.Main, t.Calls = append(t.Main, m.Served), append(t.Calls, m.Calls)
				certain = certain && m.Judged
			}
			if !certain {
				blank = "outlets." + r.Outlet
			}
			taps = append(taps, t)
		}
		if s := &in.Job.Supply; blank != "" || ci.Tested || s.LowFlow.V > 0 || s.HighFlow.V > 0 {
			return taps, blank, nil
		}
		weak, err := circuit.New(a, weakened(in))
		if err != nil {
			return nil, "", err
		}
		other, err := service.Reaches(weak, given, mains)
		if err != nil {
			return nil, "", err
		}
		if hangs(list, other) {
			blank = flowTest
		}
		return taps, blank, nil
	}
}

// hangs reports whether what the years live by is another on a main that sags: whether the
// changeover goes over, and what a main gives that is weak already.
func hangs(stiff, weak []service.Reach) bool {
	for i := range stiff {
		for m := range stiff[i].Main {
			a, b := stiff[i].Main[m], weak[i].Main[m]
			if a.Calls != b.Calls || m > 0 && a.Served != b.Served {
				return true
			}
		}
	}
	return false
}
