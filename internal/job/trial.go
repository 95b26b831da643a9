package job

import "maps"

// Trial returns the job that edits would make of the file, without the file being written
// and read again: what Apply gives, far quicker, for trying many edits of which few are
// made. It takes values only: where Apply would find that the file's layout does not let
// an edit be made after all, it does not. The error is Faults, or a Fault.
func (d *Doc) Trial(edits ...Edit) (*Job, error) {
	if len(d.faults) > 0 || !settable(edits) {
		next, _, err := d.Apply(edits...)
		if err != nil {
			return nil, err
		}
		return next.Job, nil
	}
	r := &reader{source: d.source, options: d.options, job: d.Job.Clone(), entries: maps.Clone(d.entries)}
	r.readUnits()
	for _, e := range edits {
		if _, fault := d.change(e); fault != nil {
			return nil, *fault
		}
		r.readAs(e)
	}
	r.require(d.root)
	r.assumeAll()
	r.crossCheck()
	if len(r.faults) > 0 {
		return nil, r.told()
	}
	return r.job, nil
}

// settable reports whether edits only give fields their values, and none by which others
// are read.
func settable(edits []Edit) bool {
	for _, e := range edits {
		f, known := FieldFor(e.Path)
		if e.Op != Set || !known || f.Shape == Reserved || e.Path == "units" || e.Path == "profile" || e.Path == "format" {
			return false
		}
	}
	return true
}

// readAs reads a field as if the file gave it the value of an edit. A fault of it stands
// where the field stands now.
func (r *reader) readAs(e Edit) {
	given := &entry{path: e.Path, text: e.Text, scalar: true}
	if old := r.entries[e.Path]; old != nil {
		given.at, given.value = old.at, old.value
	}
	r.entries[e.Path] = given
	r.readLeaf(given)
}
