package drawing

import (
	"tideover/internal/assembly"
	"tideover/internal/quantity"
	"tideover/internal/words"
)

// Water is what stands or moves in a part.
type Water uint8

// The waters, in the order a legend lists them. The zero value is Unknown: nobody
// worked it out.
const (
	Unknown     Water = iota
	FromMain          // water of the public main, under way
	FromStore         // stored water, under way
	StandsThere       // water that stands still
	Dry               // no water
)

var waterClass = [...]string{"unknown", "main", "stored", "still", "dry"}

// String is the water's word in classes and message ids.
func (w Water) String() string { return waterClass[w] }

// Standing is how one part stands in one setting.
type Standing struct {
	Water Water
	Flow  quantity.Flow     // positive from the part's port 0 to its port 1
	Speed quantity.Velocity // in the pipe, ≥ 0; 0 when not worked out
	Harm  bool              // what happens here hurts someone or something
}

// View says which setting a schematic shows. The layout is the same for every view of
// one assembly: positions and water change classes only.
type View struct {
	Job       string // its name, for the title
	Setting   string // its name; message id "setting.<name>"; "" for a drawing of no setting
	Positions map[string]string
	Parts     map[string]Standing // by tag
	Units     quantity.System
	Bare      bool            // leave the legend out: Key gives it for a sheet of another width
	Links     map[string]Link // by tag: symbols that can be touched
}

// position returns where a hand-turned part stands: as the view says; a drain nobody
// mentions is shut; else "".
func (v *View) position(p *assembly.Part) string {
	if at, ok := v.Positions[p.Tag]; ok {
		return at
	}
	if p.Kind == assembly.Drain {
		return "shut"
	}
	return ""
}

// name says what a part is for, in the message file's words, or failing those its kind's.
func name(p *assembly.Part) string {
	if words.Has(p.Purpose.Message()) {
		return words.Say(p.Purpose.Message(), nil)
	}
	return words.Say("drawing.kind."+string(p.Kind), nil)
}

// turned says a position in words: "open"; "" for a part that has none.
func (v *View) turned(p *assembly.Part) string {
	switch p.Kind {
	case assembly.HandValve, assembly.ThreeWay, assembly.Spool, assembly.Drain:
	default:
		return ""
	}
	at := v.position(p)
	switch {
	case at == "":
		return words.Say("drawing.position.unsaid", nil)
	case words.Has("position." + at):
		return words.Say("position."+at, nil)
	case words.Has("drawing.position." + at):
		return words.Say("drawing.position."+at, nil)
	}
	return at
}

// setting says the view's setting in words.
func (v *View) setting() string {
	switch id := "setting." + v.Setting; {
	case v.Setting == "":
		return words.Say("drawing.setting.none", nil)
	case words.Has(id):
		return words.Say(id, nil)
	}
	return v.Setting
}

// described is a part's title: "V1, stop valve at the meter: open".
func (v *View) described(p *assembly.Part) string {
	args := words.Args{"tag": p.Tag, "name": name(p), "state": v.state(p)}
	if args["state"] == "" {
		return words.Say("drawing.part", args)
	}
	return words.Say("drawing.part-state", args)
}

// state says how a part stands: its position, and the water in it where the view knows.
func (v *View) state(p *assembly.Part) string {
	at, water := v.turned(p), ""
	if s, ok := v.Parts[p.Tag]; ok && s.Water != Unknown {
		water = words.Say("drawing.water."+s.Water.String(), nil)
		if s.Harm {
			water += ", " + words.Say("drawing.harm", nil)
		}
	}
	if at != "" && water != "" {
		return at + ", " + water
	}
	return at + water
}
