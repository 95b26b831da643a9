package job

import (
	"bytes"
	"encoding/json"
	"flag"
	"os"
	"strings"
	"testing"

	yaml "github.com/goccy/go-yaml"
	"github.com/santhosh-tekuri/jsonschema/v6"
)

var update = flag.Bool("update", false, "write the generated files and vectors anew")

func compiled(t testing.TB) *jsonschema.Schema {
	t.Helper()
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(Schema()))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	c.DefaultDraft(jsonschema.Draft2020)
	if err := c.AddResource("job.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("job.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// asJSON reads YAML the way an editor does and gives what the validator takes.
func asJSON(t testing.TB, src []byte) any {
	t.Helper()
	var tree any
	if err := yaml.Unmarshal(src, &tree); err != nil {
		t.Fatal(err)
	}
	j, err := json.Marshal(tree)
	if err != nil {
		t.Fatal(err)
	}
	v, err := jsonschema.UnmarshalJSON(bytes.NewReader(j))
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func TestSchemaTakesExamples(t *testing.T) {
	s := compiled(t)
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		if err := s.Validate(asJSON(t, example(t, name))); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// TestSchemaRefuses: each broken line of an example is refused by the schema as by the reader.
func TestSchemaRefuses(t *testing.T) {
	s := compiled(t)
	text := string(example(t, "kestrel-rise"))
	for _, c := range [][2]string{
		{"  static: 3.2 bar ±0.1 ", "  statik: 3.2 bar ±0.1 "},
		{"  static: 3.2 bar ±0.1 ", "  static: 3.2 "},
		{"  static: 3.2 bar ±0.1 ", "  static: bar "},
		{"units: metric", "units: si"},
		{"format: 1", "format: 2"},
		{"name: Kestrel Rise\n", ""},
		{"date: 2026-03-02", "date: 2 March"},
		{"people: 5", "people: 0"},
		{"people: 5", "people: five"},
		{"seed: 41", "seed: 4.1"},
		{"  frost: no", "  frost: maybe"},
		{"  shower-up:", "  Shower Up:"},
		{"    kind: shower\n", ""},
		{"    category: 3", "    category: 4"},
		{"    pipe: multilayer 20", "    pipe: 20 mm"},
		{"    from: \"17:30\"", "    from: supper"},
		{"    row: tank-1500\n", ""},
		{"pipework:\n", "pipework:\n  routes: up\n"},
		{"    rating: 6 bar", "    rating:"},
	} {
		if !strings.Contains(text, c[0]) {
			t.Fatalf("the example has no %q", c[0])
		}
		broken := strings.Replace(text, c[0], c[1], 1)
		if s.Validate(asJSON(t, []byte(broken))) == nil {
			t.Errorf("%q is taken by the schema", c[1])
		}
		if _, faults := Read("x", []byte(broken)); len(faults) == 0 {
			t.Errorf("%q is taken by the reader", c[1])
		}
	}
}

// TestSchemaFresh keeps spec/job.schema.json equal to what the table makes.
func TestSchemaFresh(t *testing.T) { fresh(t, "../../spec/job.schema.json", Schema()) }

// fresh compares a generated file with what is made now; -update writes it.
func fresh(t *testing.T, path string, made []byte) {
	t.Helper()
	if *update {
		if err := os.WriteFile(path, made, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	have, err := os.ReadFile(path)
	if err != nil || !bytes.Equal(have, made) {
		t.Errorf("%s is not what the field table makes; run: go test ./internal/job -update", path)
	}
}
