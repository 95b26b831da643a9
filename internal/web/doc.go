// Package web is the page: a folder of job files in a browser, each job moving as it is
// changed.
//
// Stage: presentation, beside the command line. It takes a shelf.Folder and a catalogue and
// serves pages; it is the only package that listens. It works nothing out: figures,
// verdicts and remedies are appraise's, pictures are drawing's, saving is shelf's.
//
// How a page comes about. A desk (desk.go, undo.go) is one job being worked on: the bytes of its
// file, what was last appraised of them, what can be undone, what was typed and refused.
// Every request looks at the file again, so the file stays the user's: an edit is a list of
// changes, each a path with the text the person saw and the text they want (change.go), made
// on the bytes that are on the disk at that moment. What changed on both sides is asked. A
// change is appraised at once (appraise.Quick) and the full run follows (run.go, patience.go); a page
// that shows what is not final asks again by "?wait=", which answers once there is more.
//
// Every page and form works without script. With script, forms are sent in place and the
// answer, the same page without the blocks that are there already (sheet.go), is laid over the
// one that is there (static/page.js, htmx); there is no second set of templates. No script and no style stands in a page.
//
// To add
//
//   - a section of a job: nothing; it is there once a field or a finding belongs to it;
//   - a picture beside the work: a case in picture.go;
//   - a page of a job: a route in pages.go, its data in a file of its own, a template in
//     pages/ that defines "work" (and "beside", if it has a picture);
//   - a page of a job beside its sections (turn.go, charts.go, side.go, swap.go, packpage.go):
//     as above, begun with aboutJob, and a line in doings (charts.go);
//   - words: internal/words/en/web.txt, {{say "web.…"}} in a template.
package web
