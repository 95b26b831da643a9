package catalogue

import "testing"

// TestListing: every table a job names rows of can be listed, and every row says what a
// merchant calls it.
func TestListing(t *testing.T) {
	c, err := Load()
	if err != nil {
		t.Fatal(err)
	}
	for _, table := range Tables() {
		list := c.List(table)
		if len(list) == 0 || len(list) != len(c.Keys(table)) {
			t.Errorf("%s: %d rows listed of %d", table, len(list), len(c.Keys(table)))
		}
		for i, r := range list {
			if r.Words == "" || r.Key == "" {
				t.Errorf("%s: row %+v says nothing", table, r)
			}
			if i > 0 && list[i-1].Key >= r.Key {
				t.Errorf("%s: %s stands before %s", table, list[i-1].Key, r.Key)
			}
		}
	}
}
