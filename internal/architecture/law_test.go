package architecture

import (
	"encoding/json"
	"errors"
	"go/ast"
	"go/doc"
	"go/parser"
	"go/token"
	"io"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"sort"
	"strings"
	"testing"
)

// rule says what one package may import of ours, and why the list ends there.
type rule struct {
	may []string
	why string
}

// laws is the import law: data flows one way, and a package on the left never imports
// one on the right. Names are below internal/.
var laws = map[string]rule{
	"architecture": {nil, "it holds tests only"},
	"review":       {nil, "it holds tests only"},
	"demo":         {[]string{"job", "catalogue"}, "it hands the demo jobs to tests: nobody's code imports it, and it imports only what reads them"},
	"homes":        {[]string{"job"}, "it draws random homes for tests: nobody's code imports it, and it imports only what reads them"},
	"workers":      {nil, "work side by side knows nothing of what is worked on"},
	"words":        {nil, "messages are a leaf: everything may speak, words listen to nobody"},
	"quantity":     {[]string{"words"}, "quantities know nothing of homes"},
	"assume":       {[]string{"quantity"}, "what figures rest on is a leaf: a key, a value, a range; the words are messages"},
	"calc":         {[]string{"quantity", "words"}, "equations know nothing of homes or files"},
	"catalogue":    {[]string{"quantity", "words"}, "tables know nothing of jobs"},
	"job":          {[]string{"assume", "quantity", "words"}, "the job file knows nothing of engineering"},
	"stream":       {nil, "random numbers depend on their key and on nothing else"},
	"outage":       {[]string{"assume", "stream", "job", "quantity", "words"}, "outages know nothing of stores; a job is read in one place only"},
	"freshness":    {[]string{"assume", "calc", "quantity", "words"}, "ageing and warming never see a home or a job"},
	"hydraulics":   {[]string{"calc", "quantity", "words"}, "numerics never see a home or a job"},
	"sitework":     {[]string{"calc", "quantity"}, "arithmetic of base, motor and test never sees a job"},
	"disinfect":    {[]string{"calc", "quantity", "words"}, "dose arithmetic never sees a job"},
	"assembly":     {[]string{"assume", "job", "catalogue", "quantity", "words"}, "the assembly computes no flow"},
	"site":         {[]string{"assume", "assembly", "calc", "hydraulics", "sitework", "catalogue", "job", "quantity"}, "the facts of a job are read once, before any analysis: it sees no circuit, no finding and no words; bare arithmetic it may use"},
	"circuit":      {[]string{"assume", "site", "assembly", "hydraulics", "catalogue", "job", "calc", "quantity"}, "the circuit reads a job's figures, knows no files and makes no judgement"},
	"finding":      {[]string{"calc", "job", "quantity", "words"}, "findings are vocabulary: they know no analysis"},
	"service":      {[]string{"assume", "site", "circuit", "assembly", "hydraulics", "catalogue", "job", "finding", "calc", "quantity", "words"}, "an analysis never sees another's output or any presentation"},
	"store":        {[]string{"assume", "site", "circuit", "assembly", "hydraulics", "catalogue", "job", "finding", "calc", "quantity", "words"}, "an analysis never sees another's output or any presentation"},
	"day":          {[]string{"assume", "site", "circuit", "assembly", "hydraulics", "catalogue", "job", "finding", "calc", "quantity", "words"}, "an analysis never sees another's output or any presentation"},
	"demand":       {[]string{"assume", "stream", "calc", "catalogue", "job", "quantity", "words"}, "the household reads a job's figures and knows no supply and no store"},
	"seasons":      {[]string{"assume", "demand", "outage", "stream", "calc", "quantity"}, "numerics never see a job or a home's pipework: who draws and what fails is handed in"},
	"proof":        {[]string{"site", "circuit", "assembly", "hydraulics", "catalogue", "job", "finding", "calc", "quantity", "words", "workers"}, "an analysis never sees another's output or any presentation"},
	"consent":      {[]string{"assembly", "catalogue", "job", "finding", "quantity"}, "the local rules say whose leave is asked; an analysis never sees another's output or any presentation"},
	"diagnose":     {[]string{"assume", "site", "circuit", "assembly", "catalogue", "job", "finding", "calc", "quantity", "words"}, "an analysis never sees another's output or any presentation"},
	"years":        {[]string{"assume", "assembly", "calc", "catalogue", "circuit", "demand", "finding", "freshness", "job", "outage", "quantity", "seasons", "site", "words"}, "an analysis never sees another's output or any presentation"},
	"base":         {[]string{"assume", "site", "assembly", "catalogue", "job", "finding", "sitework", "quantity"}, "an analysis never sees another's output or any presentation: what a store weighs is handed in"},
	"power":        {[]string{"assume", "site", "assembly", "catalogue", "job", "finding", "hydraulics", "sitework", "calc", "quantity"}, "an analysis never sees another's output or any presentation: the pump's points are handed in"},
	"procedure":    {[]string{"assembly", "quantity"}, "what hands do is data about an assembly: it speaks no sentence and solves nothing"},
	"commission":   {[]string{"assume", "site", "procedure", "assembly", "catalogue", "job", "finding", "service", "disinfect", "sitework", "calc", "quantity"}, "what is read on site is read off what the service worked out, after it; it never solves and knows no presentation"},
	"takeoff":      {[]string{"assembly", "catalogue", "job", "finding", "calc", "quantity", "words"}, "the buying list reads the assembly and nothing else"},
	"appraise":     {[]string{"assume", "assembly", "base", "catalogue", "circuit", "commission", "consent", "day", "diagnose", "disinfect", "finding", "job", "outage", "power", "procedure", "proof", "seasons", "service", "store", "takeoff", "years", "calc", "quantity", "words", "workers"}, "the run joins analyses; it never draws, prints or solves"},
	"mend":         {[]string{"appraise", "catalogue", "finding", "job", "quantity"}, "putting right is trying edits of the job and appraising it again"},
	"proposal":     {[]string{"appraise", "assembly", "catalogue", "consent", "finding", "job", "mend", "quantity", "site", "takeoff", "words", "workers"}, "alternatives are edits of the job, appraised; nothing is printed or written here"},
	"interview":    {[]string{"appraise", "assembly", "calc", "catalogue", "finding", "job", "mend", "quantity", "site", "words"}, "the interview makes a job file and has it appraised; it prints nothing and writes no file"},
	"manual":       {[]string{"appraise", "calc", "freshness", "quantity", "seasons", "sitework", "words"}, "the theory manual is made from the registered equations"},
	"drawing":      {[]string{"assembly", "catalogue", "drawing/font", "quantity", "words"}, "drawings place values, they never compute one"},
	"drawing/font": {nil, "the face is data"},
	"pack":         {[]string{"assume", "appraise", "assembly", "base", "calc", "catalogue", "commission", "consent", "disinfect", "drawing", "drawing/font", "finding", "job", "pack/paper", "power", "procedure", "proof", "proposal", "quantity", "service", "store", "takeoff", "words"}, "papers place values, they never compute one (sitework and every equation are for analyses), and write no file"},
	"pack/paper":   {[]string{"drawing", "drawing/font", "words"}, "the PDF writer knows boxes and ink only"},
	"shelf":        {[]string{"words"}, "the one door to the disk knows bytes and names only"},
	"web":          {[]string{"appraise", "assembly", "catalogue", "drawing", "finding", "interview", "job", "pack", "proposal", "quantity", "service", "shelf", "words", "workers"}, "pages show what others worked out: they never import numerics"},
	"browser":      {nil, "tests of the page in a real browser: nothing stands on it"},
	"cli":          {[]string{"assume", "appraise", "catalogue", "finding", "interview", "job", "manual", "pack", "proposal", "quantity", "shelf", "takeoff", "web", "words", "calc", "assembly"}, "commands never import numerics"},
}

// doors lists the standard packages only some of ours may use.
var doors = map[string]struct {
	only []string
	why  string
}{
	"os":        {[]string{"shelf", "cli", "demo"}, "only shelf touches files; the command line hands it names; demo reads for the tests"},
	"os/exec":   {[]string{"cli"}, "nothing is run from inside, but the browser that serve opens"},
	"net":       {[]string{"web"}, "only web listens; nothing is loaded from any network"},
	"net/http":  {[]string{"web"}, "only web listens; nothing is loaded from any network"},
	"math/rand": {nil, "randomness is seeded and passed in: math/rand/v2 with a fixed seed"},
	"unsafe":    {nil, "nothing here needs it"},
	"log":       {nil, "results and errors are returned, not logged"},
}

type listed struct {
	ImportPath, Dir string
	Imports         []string
	GoFiles         []string
	TestGoFiles     []string
	TestImports     []string
	XTestImports    []string
}

func packages(t *testing.T) []listed {
	t.Helper()
	out, err := exec.Command("go", "list", "-json=ImportPath,Dir,Imports,GoFiles,TestGoFiles,TestImports,XTestImports", "tideover/...").Output()
	if err != nil {
		t.Fatalf("go list: %v", err)
	}
	var list []listed
	for d := json.NewDecoder(strings.NewReader(string(out))); ; {
		var p listed
		if err := d.Decode(&p); errors.Is(err, io.EOF) {
			return list
		} else if err != nil {
			t.Fatal(err)
		}
		list = append(list, p)
	}
}

func TestImportLaw(t *testing.T) {
	for _, p := range packages(t) {
		name, inside := strings.CutPrefix(p.ImportPath, "tideover/internal/")
		if !inside {
			continue
		}
		law, known := laws[name]
		if !known {
			t.Errorf("package %s has no import law: add one to laws with its reason", name)
			continue
		}
		for _, imp := range p.Imports {
			if d, guarded := doors[imp]; guarded && !slices.Contains(d.only, name) {
				t.Errorf("package %s imports %q; only %v may; reason: %s", name, imp, d.only, d.why)
			}
			ours, is := strings.CutPrefix(imp, "tideover/internal/")
			if is && !slices.Contains(law.may, ours) {
				t.Errorf("package %s imports %s, which is not allowed; reason: %s", name, ours, law.why)
			}
		}
	}
}

// TestClock: the date on every sheet comes from the job or a flag, never the clock.
func TestClock(t *testing.T) {
	for _, p := range packages(t) {
		if strings.HasSuffix(p.ImportPath, "/cmd/tideover") {
			continue
		}
		for _, f := range p.GoFiles {
			b, err := os.ReadFile(filepath.Join(p.Dir, f))
			if err != nil {
				t.Fatal(err)
			}
			if strings.Contains(string(b), "time.Now(") {
				t.Errorf("%s/%s reads the clock; reason: same input, same bytes: dates and seeds are passed in", p.ImportPath, f)
			}
		}
	}
}

// TestDocumented: every package says its stage, and every exported name what it is.
func TestDocumented(t *testing.T) {
	for _, p := range packages(t) {
		fset := token.NewFileSet()
		var files []*ast.File
		for _, f := range p.GoFiles {
			a, err := parser.ParseFile(fset, filepath.Join(p.Dir, f), nil, parser.ParseComments)
			if err != nil {
				t.Fatal(err)
			}
			files = append(files, a)
		}
		d, err := doc.NewFromFiles(fset, files, p.ImportPath)
		if err != nil {
			t.Fatal(err)
		}
		if d.Doc == "" {
			t.Errorf("package %s has no package comment", p.ImportPath)
		}
		for _, name := range undocumented(d) {
			t.Errorf("%s.%s is exported and has no comment", p.ImportPath, name)
		}
	}
}

func undocumented(d *doc.Package) []string {
	var bare []string
	note := func(name, text string) {
		if text == "" && ast.IsExported(name) {
			bare = append(bare, name)
		}
	}
	for _, f := range d.Funcs {
		note(f.Name, f.Doc)
	}
	for _, t := range d.Types {
		group := len(t.Decl.Specs) > 1 // members of a documented block carry line comments
		if !group {
			note(t.Name, t.Doc)
		}
		for _, f := range t.Funcs {
			note(f.Name, f.Doc)
		}
		for _, m := range t.Methods {
			if ast.IsExported(t.Name) {
				note(m.Name, m.Doc)
			}
		}
	}
	for _, v := range append(d.Consts, d.Vars...) {
		if v.Doc == "" && len(v.Decl.Specs) == 1 && len(v.Names) == 1 {
			note(v.Names[0], v.Doc)
		}
	}
	sort.Strings(bare)
	return bare
}
