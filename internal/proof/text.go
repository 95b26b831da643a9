package proof

import (
	"math/bits"
	"strings"

	"tideover/internal/circuit"
	"tideover/internal/words"
)

// The words of a case's text, by variable and value.
var caseWords = [worldly]struct {
	name   string
	values []string
}{
	vMain:   {"main", []string{"good", "weak", "dry", "high", "sucking"}},
	vPower:  {"power", []string{"on", "off", "flickering"}},
	vStore:  {"store", []string{"normal", "full", "low", "empty"}},
	vDraw:   {"draw", []string{"none", "one", "many", "burst"}},
	vFrost:  {"frost", []string{"no", "yes"}},
	vHot:    {"heater", []string{"cold", "heating"}},
	vPump:   {"pump", []string{"standing", "running", "holding"}},
	vLock:   {"lock", []string{"locked-out", "allowed"}},
	vHeader: {"header", []string{"normal", "full", "low", "empty"}},
	vBack:   {"regulator", []string{"holds", "lets-back"}},
}

// Word returns the stable name of a value: "dry" of "main" and so on, for JSON and as the
// last part of the message id "world.<name>.<value>".
func (w World) Word(name string) string {
	at := map[string]int{"main": int(w.Main), "power": int(w.Power), "store": int(w.Store), "draw": int(w.Draw), "frost": asIndex(w.Frost), "heater": asIndex(w.Hot), "header": int(w.Header), "regulator": asIndex(w.Back)}
	for _, v := range caseWords {
		if k, is := at[name]; is && v.name == name {
			return v.values[k]
		}
	}
	return ""
}

func asIndex(b bool) int {
	if b {
		return 1
	}
	return 0
}

// String writes a case as text that Parse reads: a named setting, then what differs from
// it and from the ordinary world, word by word, then what has failed.
//
//	on-store V3=open main=dry pump=running failed=check-stuck-open@N2
func (s *Space) String(c Case) string {
	near := s.nearestNamed(c.Setting)
	list := []string{s.Named[near].Name}
	for h := range c.Setting {
		if c.Setting[h] != s.Named[near].Position[h] {
			list = append(list, s.Hands[h].Tag+"="+s.Hands[h].Positions[c.Setting[h]])
		}
	}
	b := s.boxOf(c)
	n := len(s.Hands)
	for v, w := range caseWords {
		if b.open[n+v] != s.normal[n+v] {
			list = append(list, w.name+"="+w.values[bits.TrailingZeros8(b.open[n+v])])
		}
	}
	for _, m := range c.Mishaps {
		list = append(list, "failed="+strings.ReplaceAll(s.Mishaps[m].Key(), " ", "@"))
	}
	return strings.Join(list, " ")
}

// nearestNamed is the named setting with the fewest movements to a setting.
func (s *Space) nearestNamed(at []uint8) int {
	best, least := 0, len(at)+1
	for n := range s.Named {
		moves := 0
		for h := range at {
			if at[h] != s.Named[n].Position[h] {
				moves++
			}
		}
		if moves < least {
			best, least = n, moves
		}
	}
	return best
}

// Parse reads a case written by String. What is not said is as in the normal setting and
// the ordinary world. The error is a *Refusal that says what would be accepted.
func (s *Space) Parse(text string) (Case, error) {
	c := s.Normal()
	for _, word := range strings.Fields(text) {
		if err := s.word(&c, word); err != nil {
			return Case{}, err
		}
	}
	return c, s.possible(c)
}

func (s *Space) word(c *Case, word string) error {
	name, value, pair := strings.Cut(word, "=")
	if !pair {
		for n := range s.Named {
			if s.Named[n].Name == name {
				copy(c.Setting, s.Named[n].Position)
				return nil
			}
		}
		return s.unknown("proof.case.setting", name, s.settingNames())
	}
	if name == "failed" {
		return s.failure(c, value)
	}
	for v := range caseWords {
		if caseWords[v].name == name {
			k := indexOf(caseWords[v].values, value)
			if k < 0 {
				return s.unknown("proof.case.value", word, caseWords[v].values)
			}
			c.put(v, uint8(k))
			return nil
		}
	}
	for h := range s.Hands {
		if s.Hands[h].Tag == name {
			k := indexOf(s.Hands[h].Positions, value)
			if k < 0 {
				return s.unknown("proof.case.value", word, s.Hands[h].Positions)
			}
			c.Setting[h] = uint8(k)
			return nil
		}
	}
	return s.unknown("proof.case.word", name, s.wordNames())
}

func (s *Space) failure(c *Case, value string) error {
	m := s.in.Circuit.MishapOf(strings.ReplaceAll(value, "@", " "))
	if m < 0 {
		var keys []string
		for k := range s.Mishaps {
			if s.Mishaps[k].ID != "tags-swapped" {
				keys = append(keys, strings.ReplaceAll(s.Mishaps[k].Key(), " ", "@"))
			}
		}
		return s.unknown("proof.case.mishap", value, keys)
	}
	for _, have := range c.Mishaps {
		if have == m {
			return nil
		}
	}
	c.Mishaps = append(c.Mishaps, m)
	if n := len(c.Mishaps); n == 2 && c.Mishaps[0] > c.Mishaps[1] {
		c.Mishaps[0], c.Mishaps[1] = c.Mishaps[1], c.Mishaps[0]
	} else if n > 2 {
		return &Refusal{ID: "proof.case.too-many"}
	}
	return nil
}

// possible refuses a value the assembly does not have: a pump's state without a pump.
func (s *Space) possible(c Case) error {
	b := s.boxOf(c)
	n := len(s.Hands)
	for v, w := range caseWords {
		if b.open[n+v]&s.first[n+v] == 0 {
			var have []string
			for k, value := range w.values {
				if s.first[n+v]>>k&1 != 0 {
					have = append(have, value)
				}
			}
			return s.unknown("proof.case.value", w.name+"="+w.values[bits.TrailingZeros8(b.open[n+v])], have)
		}
	}
	return nil
}

func (c *Case) put(v int, k uint8) {
	switch v {
	case vMain:
		c.World.Main = Main(k)
	case vPower:
		c.World.Power = Power(k)
	case vStore:
		c.World.Store = Store(k)
	case vDraw:
		c.World.Draw = Draw(k)
	case vFrost:
		c.World.Frost = k == 1
	case vHot:
		c.World.Hot = k == 1
	case vPump:
		c.Control.Pump = circuit.Pumping(k)
	case vLock:
		c.Control.Lock = circuit.LockState(k)
	case vHeader:
		c.World.Header = Store(k)
	case vBack:
		c.World.Back = k == 1
	}
}

func indexOf(list []string, s string) int {
	for k, t := range list {
		if t == s {
			return k
		}
	}
	return -1
}

func (s *Space) unknown(id, got string, accepted []string) error {
	return &Refusal{ID: id, Args: words.Args{"got": got, "accepted": strings.Join(accepted, ", ")}}
}

func (s *Space) settingNames() []string {
	var list []string
	for n := range s.Named {
		list = append(list, s.Named[n].Name)
	}
	return list
}

func (s *Space) wordNames() []string {
	list := []string{"failed"}
	for _, w := range caseWords {
		list = append(list, w.name)
	}
	for h := range s.Hands {
		list = append(list, s.Hands[h].Tag)
	}
	return list
}
