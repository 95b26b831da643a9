package job

import (
	"bytes"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"tideover/internal/quantity"
)

// object is a JSON object whose members keep their order.
type object []member

type member struct {
	name  string
	value any
}

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var b bytes.Buffer
	b.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			b.WriteByte(',')
		}
		name, err := json.Marshal(m.name)
		if err != nil {
			return nil, err
		}
		value, err := marshal(m.value)
		if err != nil {
			return nil, err
		}
		b.Write(name)
		b.WriteByte(':')
		b.Write(value)
	}
	b.WriteByte('}')
	return b.Bytes(), nil
}

// marshal is json.Marshal without the escapes for web pages.
func marshal(v any) ([]byte, error) {
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	err := e.Encode(v)
	return bytes.TrimSuffix(b.Bytes(), []byte("\n")), err
}

// Schema returns the JSON Schema (draft 2020-12) of a job file, made from the field
// table, for editors that complete and check. It never refuses a file that Read takes;
// Read refuses more: units, limits, what two fields together cannot mean.
func Schema() []byte {
	root := object{
		{"$schema", "https://json-schema.org/draft/2020-12/schema"},
		{"$id", "urn:tideover:job-file:1"},
		{"title", "Tideover job file, format 1"},
	}
	text, err := marshal(append(root, mapSchema("")...))
	if err != nil {
		panic("job: schema: " + err.Error())
	}
	var b bytes.Buffer
	if err := json.Indent(&b, text, "", "  "); err != nil {
		panic("job: schema: " + err.Error())
	}
	b.WriteByte('\n')
	return b.Bytes()
}

// mapSchema describes a map of the format; path is starred.
func mapSchema(path string) object {
	x := theIndex()
	var properties object
	var required []string
	for _, key := range x.children[path] {
		at := strings.TrimPrefix(path+"."+key, ".")
		if i, leaf := x.byPath[at]; leaf && x.fields[i].Shape == Reserved {
			continue
		}
		properties = append(properties, member{key, nodeSchema(at)})
		if needed(at) {
			required = append(required, key)
		}
	}
	o := object{{"type", "object"}, {"properties", properties}, {"additionalProperties", false}}
	if len(required) > 0 {
		o = append(o, member{"required", required})
	}
	return o
}

// needed reports whether a field is required, or a map holds one that always is.
func needed(path string) bool {
	for _, f := range theIndex().fields {
		if f.Required && (f.Path == path || strings.HasPrefix(f.Path, path+".") && !strings.HasPrefix(f.Path, path+".*")) {
			return true
		}
	}
	return path == "outlets"
}

func nodeSchema(path string) object {
	x := theIndex()
	if i, leaf := x.byPath[path]; leaf {
		return x.fields[i].schema()
	}
	if !lists[path] {
		return mapSchema(path)
	}
	o := object{
		{"type", "object"},
		{"propertyNames", object{{"pattern", tagForm.String()}, {"maxLength", maxTag}}},
		{"additionalProperties", mapSchema(path + ".*")},
	}
	if path == "outlets" {
		o = append(o, member{"minProperties", 1})
	}
	return o
}

// schema describes one field.
func (f Field) schema() object {
	o := object{{"title", f.Label()}, {"description", f.Hint() + " " + f.Why()}}
	if f.Default != "" {
		o = append(o, member{"default", f.Default})
	}
	return append(o, f.form()...)
}

// Forms of values. A pattern says no more than the reader does: it looks at the form,
// not at the unit.
const (
	anyText     = `\S`
	numberForm  = `^\s*[-+−–]?\s*[0-9.,¼-¾⅐-⅞]`
	unitForm    = numberForm + `.*[A-Za-zµμΩ°℃℉%'"′″²³]`
	rowForm     = `^[A-Za-z0-9./ -]{1,64}$`
	sizePattern = `^\s*[A-Za-z][A-Za-z0-9.-]*\s+[0-9]`
	dateForm    = `^[0-9]{4}-[0-9]{2}-[0-9]{2}$`
	clockForm   = `^\s*[0-9]{1,2}:[0-9]{2}\s*$`
	hoursForm   = `^\s*[0-9]{1,2}:[0-9]{2}\s*-\s*[0-9]{1,2}:[0-9]{2}\s*$`
	fileForm    = `^[^/\\:][^\\:]*$`
)

func (f Field) form() object {
	pattern := func(p string) object { return object{{"type", "string"}, {"pattern", p}} }
	scalar := []string{"string", "number", "boolean"}
	switch f.Shape {
	case Quantity:
		if f.Dim == quantity.RatioDim {
			return object{{"type", []string{"string", "number"}}, {"pattern", numberForm}, {"minimum", f.Low}, {"maximum", f.High}}
		}
		return append(pattern(unitForm), member{"examples", []string{quantity.Accepts(f.Dim, quantity.Metric)}})
	case Count:
		return object{{"type", []string{"integer", "string"}}, {"pattern", `^[-+]?[0-9]+$`}, {"minimum", f.Low}, {"maximum", f.High}}
	case Choice:
		return object{{"enum", f.words()}}
	case Row:
		return object{{"type", scalar}, {"pattern", rowForm}}
	case Date:
		return pattern(dateForm)
	case TimeOfDay:
		return pattern(clockForm)
	case DailyHours:
		return pattern(hoursForm)
	case Size:
		return pattern(sizePattern)
	case Spells, Slots:
		return pattern(anyText)
	case File:
		return object{{"type", scalar}, {"pattern", fileForm}}
	case Text:
		return object{{"type", scalar}}
	}
	panic(fmt.Sprintf("job: schema: %s: shape %v has no form", f.Path, f.Shape))
}

// words are the allowed words, and the number where one looks like a number: an
// editor reads an unquoted 3 as one.
func (f Field) words() []any {
	var list []any
	for _, w := range slices.Clone(f.Allowed) {
		list = append(list, w)
		if n, err := strconv.Atoi(w); err == nil {
			list = append(list, n)
		}
	}
	return list
}
