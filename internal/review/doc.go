// Package review keeps what people see from changing unseen: every schematic, every chart
// and the text of every page of the example jobs' packs stand under testdata, and a test
// compares them. It holds tests only.
//
//	go test ./internal/review                    compares
//	go test ./internal/review -review DIR        also writes DIR/index.html: old and new side by side
//	go test ./internal/review -update            accepts what is made now
package review
