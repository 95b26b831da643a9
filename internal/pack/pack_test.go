package pack

import (
	"os"
	"testing"
)

// TestShow writes the packs to $PACK_SHOW for looking at.
func TestShow(t *testing.T) {
	dir := os.Getenv("PACK_SHOW")
	if dir == "" {
		t.Skip("PACK_SHOW names no folder: nothing is written")
	}
	for _, name := range []string{"kestrel-rise", "juniper-flat"} {
		files, err := Make(real(t, name), Options{Version: "0.1.0"})
		if err != nil {
			t.Fatal(err)
		}
		for _, f := range files {
			if err := os.WriteFile(dir+"/"+name+"-"+f.Name, f.Data, 0o600); err != nil {
				t.Fatal(err)
			}
		}
	}
}
