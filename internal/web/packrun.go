package web

import (
	"archive/zip"
	"bytes"
	"context"

	"tideover/internal/appraise"
	"tideover/internal/job"
	"tideover/internal/pack"
)

// mostPacks is how many finished packs are kept in memory; the oldest makes room.
const mostPacks = 3

// packRun is one pack being made, or made. It lives in memory until it is downloaded from
// there: nothing is written to the folder.
type packRun struct {
	longRun
	order packOrder
	files []pack.File
}

// packOrder is how a pack is wanted.
type packOrder struct {
	paper pack.Paper
	set   string // of sheets; "" is all
	full  bool   // every single failure is tried first
}

// startPack makes the pack of a desk in the background; one that is under way goes on. The
// desk is locked.
func (p *Pages) startPack(d *desk, o packOrder) {
	if k := p.packs.get(d.name); k != nil && k.running() {
		return
	}
	ctx, cancel := context.WithCancel(p.ctx)
	k := &packRun{order: o}
	k.begin(revision(d.src), cancel)
	p.packs.put(d.name, k)
	in, known := d.input, d.appraisal
	if o.full && d.stage != last || d.stage == glance {
		known = nil
	}
	name := d.name
	go p.guarded(func() {
		defer cancel()
		p.makePack(ctx, k, name, in, known)
	}, k.fail)
}

// makePack works out what is not known yet and sets the sheets.
func (p *Pages) makePack(ctx context.Context, k *packRun, name string, in appraise.Input, known *appraise.Appraisal) {
	files, err := p.packFiles(ctx, k, name, in, known)
	switch {
	case ctx.Err() != nil:
		k.move(func() { k.stage = runStopped })
	case err != nil:
		k.fail(err)
	default:
		k.move(func() { k.stage, k.files = runDone, files })
	}
}

func (p *Pages) packFiles(ctx context.Context, k *packRun, name string, in appraise.Input, known *appraise.Appraisal) ([]pack.File, error) {
	if known == nil {
		in.Proof = appraise.SoundProof
		if k.order.full {
			in.Proof = appraise.FullProof
			leave, err := p.chair.wanted(ctx)
			if err != nil {
				return nil, err
			}
			defer leave()
		}
		k.tell(0, 1)
		var err error
		if known, err = appraise.Run(ctx, in, k.tell); err != nil {
			return nil, err
		}
	}
	known, err := p.withYears(ctx, in, known, name, k.of, k.tell)
	if err != nil {
		return nil, err
	}
	if known, err = known.Resting(ctx, in); err != nil {
		return nil, err
	}
	k.move(func() { k.stage = runSets })
	o := pack.Options{Paper: k.order.paper, Version: p.version}
	if k.order.set != "" {
		o.Sheets = []string{k.order.set}
	}
	o.Photos, o.Missing = p.photos(known.Job)
	if ctx.Err() != nil {
		return nil, ctx.Err()
	}
	return pack.Make(known, o)
}

// The largest photo that is read, and the most of all together: what a telephone takes,
// times a few.
const (
	photoLimit  = 10 << 20
	photosLimit = 40 << 20
)

// photos reads the photos a job names from its folder. One that cannot be read is told and
// left out: a sheet without it is worth more than no sheet.
func (p *Pages) photos(j *job.Job) (found map[string][]byte, missing map[string]string) {
	found, missing = map[string][]byte{}, map[string]string{}
	left := int64(photosLimit)
	for _, f := range j.Photos {
		if found[f.File] != nil {
			continue
		}
		b, err := p.folder.Beside(f.File, min(photoLimit, left))
		if err != nil {
			missing[f.File] = err.Error()
			continue
		}
		left -= int64(len(b))
		found[f.File] = b
	}
	return found, missing
}

// zipped is a pack's files as one.
func zipped(files []pack.File) ([]byte, error) {
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for _, f := range files {
		w, err := z.Create(f.Name)
		if err == nil {
			_, err = w.Write(f.Data)
		}
		if err != nil {
			return nil, err
		}
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	return b.Bytes(), nil
}
