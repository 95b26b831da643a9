package assembly

import (
	"fmt"
	"sort"
	"strings"
)

// Dump writes the assembly as plain text, a part a line: for tests and for a person who
// wants to see what was laid out.
func (a *Assembly) Dump() string {
	var b strings.Builder
	fmt.Fprintf(&b, "%s, joined %v\n\n", a.Arrangement, a.Joined)
	for i := range a.Parts {
		a.dumpPart(&b, i)
	}
	b.WriteString("\ncontrols\n")
	for _, c := range a.Controls {
		fmt.Fprintf(&b, "  %s %s at %s.%s acts on %s: on %.0f Pa, off %.0f Pa\n", c.Tag, c.Kind, a.Parts[c.Senses.Part].Tag,
			a.Parts[c.Senses.Part].Ports[c.Senses.Port].Name, c.Acts, float64(c.On), float64(c.Off))
	}
	b.WriteString("\nsettings\n")
	for _, s := range a.Settings {
		fmt.Fprintf(&b, "  %s:", s.Name)
		for _, tag := range sortedTags(s.Positions) {
			fmt.Fprintf(&b, " %s %s", tag, s.Positions[tag])
		}
		b.WriteString("\n")
	}
	return b.String()
}

func (a *Assembly) dumpPart(b *strings.Builder, i int) {
	p := &a.Parts[i]
	fmt.Fprintf(b, "%-10s %-11s %-8s %s", p.Tag, p.Kind, p.Role, p.Purpose.Message())
	if p.Row != nil {
		fmt.Fprintf(b, " [%s]", p.Row.Ref().Key)
	}
	if p.Count > 1 {
		fmt.Fprintf(b, " ×%d", p.Count)
	}
	if p.Kind == Run {
		fmt.Fprintf(b, " %.2f m", float64(p.Length))
	}
	if p.Kept {
		b.WriteString(" kept")
	}
	b.WriteString("\n")
	for k, port := range p.Ports {
		meets := port.End
		if o, ok := a.Meets(End{i, k}); ok {
			meets = a.Parts[o.Part].Tag + "." + a.Parts[o.Part].Ports[o.Port].Name
		}
		fmt.Fprintf(b, "    %-9s %-16s %-11s z %.2f  %s\n", port.Name, port.Size, port.End, float64(port.Z), meets)
	}
	for _, f := range p.Fittings {
		fmt.Fprintf(b, "    + %d × %s\n", f.Count, f.Row.Key)
	}
}

func sortedTags(m map[string]string) []string {
	tags := make([]string, 0, len(m))
	for t := range m {
		tags = append(tags, t)
	}
	sort.Strings(tags)
	return tags
}
