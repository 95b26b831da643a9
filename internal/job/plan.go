package job

import (
	"reflect"
	"sync"

	"tideover/internal/quantity"
)

// leaf says where in the Job struct the value of a path stands.
type leaf struct {
	path  string       // starred
	list  int          // field of Job that is the item list, or −1
	index []int        // field indices from Job, or from an item
	dim   quantity.Dim // NoDim unless the leaf is a Val
	kin   []*leaf      // quantity leaves assumed from this one when absent
}

// plan is the struct walked once: every tagged leaf by its path.
var plan = sync.OnceValue(func() map[string]*leaf {
	p := map[string]*leaf{}
	collect(p, reflect.TypeFor[Job](), -1, nil)
	for _, f := range theIndex().fields {
		if source := p[f.Same]; f.Same != "" && source != nil && source.dim != quantity.NoDim {
			source.kin = append(source.kin, p[f.Path])
		}
	}
	return p
})

func collect(p map[string]*leaf, t reflect.Type, list int, index []int) {
	for i := range t.NumField() {
		f := t.Field(i)
		path := f.Tag.Get("job")
		here := append(append([]int(nil), index...), i)
		switch {
		case path == "":
		case holdsLeaves(f.Type):
			collect(p, f.Type, list, here)
		case f.Type.Kind() == reflect.Slice && holdsLeaves(f.Type.Elem()):
			collect(p, f.Type.Elem(), i, nil)
		default:
			p[path] = &leaf{path: path, list: list, index: here, dim: dimOf(f.Type)}
		}
	}
}

// holdsLeaves reports whether t is a struct of tagged fields.
func holdsLeaves(t reflect.Type) bool {
	if t.Kind() != reflect.Struct {
		return false
	}
	for i := range t.NumField() {
		if t.Field(i).Tag.Get("job") != "" {
			return true
		}
	}
	return false
}

// dimOf returns the dimension of a Val type, by asking the type itself.
func dimOf(t reflect.Type) quantity.Dim {
	if v, ok := reflect.Zero(t).Interface().(interface{ Quantity() quantity.Quantity }); ok {
		return v.Quantity().Dim
	}
	return quantity.NoDim
}

// at returns the place of a leaf's value in j; item is the index into its list.
func (l *leaf) at(j *Job, item int) reflect.Value {
	v := reflect.ValueOf(j).Elem()
	if l.list >= 0 {
		v = v.Field(l.list).Index(item)
	}
	for _, i := range l.index {
		v = v.Field(i)
	}
	return v
}

// Fields of a Val, in its order.
const (
	valV = iota
	valHalf
	valBasis
	valFrom
)

// quantityAt reads a Val.
func (l *leaf) quantityAt(v reflect.Value) quantity.Quantity {
	return quantity.Quantity{
		Dim: l.dim, SI: v.Field(valV).Float(), Half: v.Field(valHalf).Float(),
		Basis: quantity.Basis(v.Field(valBasis).Uint()),
	}
}

// setQuantity writes a Val.
func setQuantity(v reflect.Value, q quantity.Quantity, from string) {
	v.Field(valV).SetFloat(q.SI)
	v.Field(valHalf).SetFloat(q.Half)
	v.Field(valBasis).SetUint(uint64(q.Basis))
	v.Field(valFrom).SetString(from)
}

// items returns the tags of a list of j, in its order.
func (j *Job) items(list string) []string {
	var tags []string
	switch list {
	case "outlets":
		for i := range j.Outlets {
			tags = append(tags, j.Outlets[i].Tag)
		}
	case "uses":
		for i := range j.Uses {
			tags = append(tags, j.Uses[i].Tag)
		}
	case "existing":
		for i := range j.Existing {
			tags = append(tags, j.Existing[i].Tag)
		}
	case "parts":
		for i := range j.Parts {
			tags = append(tags, j.Parts[i].Tag)
		}
	case "joins":
		for i := range j.Joins {
			tags = append(tags, j.Joins[i].Tag)
		}
	case "added":
		for i := range j.Added {
			tags = append(tags, j.Added[i].Tag)
		}
	case "bought":
		for i := range j.Bought {
			tags = append(tags, j.Bought[i].Tag)
		}
	case "photos":
		for i := range j.Photos {
			tags = append(tags, j.Photos[i].Tag)
		}
	}
	return tags
}

// addItem appends an item to a list and returns its index.
func (j *Job) addItem(list, tag string) int {
	switch list {
	case "outlets":
		j.Outlets = append(j.Outlets, Outlet{Tag: tag})
		return len(j.Outlets) - 1
	case "uses":
		j.Uses = append(j.Uses, Use{Tag: tag})
		return len(j.Uses) - 1
	case "existing":
		j.Existing = append(j.Existing, Existing{Tag: tag})
		return len(j.Existing) - 1
	case "parts":
		j.Parts = append(j.Parts, FreePart{Tag: tag})
		return len(j.Parts) - 1
	case "joins":
		j.Joins = append(j.Joins, FreeJoin{Tag: tag})
		return len(j.Joins) - 1
	case "added":
		j.Added = append(j.Added, Added{Tag: tag})
		return len(j.Added) - 1
	case "bought":
		j.Bought = append(j.Bought, Bought{Tag: tag})
		return len(j.Bought) - 1
	case "photos":
		j.Photos = append(j.Photos, Photo{Tag: tag})
		return len(j.Photos) - 1
	}
	panic("job: " + list + ": not a list of the format")
}
