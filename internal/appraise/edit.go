package appraise

import (
	"fmt"

	"tideover/internal/assembly"
	"tideover/internal/job"
)

// With is the input of the job as edits of its file leave it: the one way a remedy, a swap or a
// proposal is made, whether to see what comes of it or to keep it. The error says why the edits
// cannot be made.
func (in Input) With(edits ...job.Edit) (Input, error) {
	if in.Doc == nil {
		return in, errNoFile
	}
	doc, _, err := in.Doc.Apply(edits...)
	if err != nil {
		return in, err
	}
	if doc.Job.Interruptions.Log == in.Job.Interruptions.Log {
		doc.Job.Logged = in.Job.Logged
	}
	if doc.Job.Interruptions.PowerLog == in.Job.Interruptions.PowerLog {
		doc.Job.CutsLogged = in.Job.CutsLogged
	}
	in.Doc, in.Job = doc, doc.Job
	return in, nil
}

// glimpse is With without the file written and read again, for trying many edits of which few
// are offered: the job is the same (job.Trial is held to job.Apply), and has no file.
func (in Input) glimpse(edits []job.Edit) (Input, error) {
	tried, err := in.Doc.Trial(edits...)
	if err != nil {
		return in, err
	}
	in.Doc, in.Job, in.from = nil, tried, firstFelt(pathsOf(edits))
	return in, nil
}

// laid is the job with edits, laid out.
func (in Input) laid(edits []job.Edit) (*job.Job, *assembly.Assembly, error) {
	next, err := in.With(edits...)
	if err != nil {
		return nil, nil, err
	}
	built, err := assembly.Build(next.Job, in.Catalogue, in.Profile)
	return next.Job, built, err
}

var errNoFile = fmt.Errorf("appraise: edits are tried on a job file, and there is none")
