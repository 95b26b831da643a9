// Package browser holds the tests of the page in a real browser: Debian's Chromium, driven
// over its debugging pipe. There is nothing in it to use.
//
// Stage: presentation, beside web, whose pages it looks at.
//
// Every flow runs twice, with scripts and without. A visitor (visitor_test.go) clicks where
// the mouse would, presses keys, and waits for what a person would see; nothing is asked of
// the page's own script. Where there is no chromium, the tests are skipped and say so.
//
//	go test ./internal/browser                 the flows, axe-core, sizes
//	go test ./internal/browser -pictures DIR   every page as PNG, three widths, light and dark
//	go test ./internal/browser -run Paint -v   how long an edit takes to be painted
package browser
