//go:build js

package pack

// workbookFiles makes no workbook in a browser, where its writer would be a large part of
// the programme: the list is in the pack as CSV too.
func (p *pack) workbookFiles() ([]File, error) { return nil, nil }
