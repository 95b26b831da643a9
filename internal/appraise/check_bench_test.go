package appraise

import (
	"context"
	"testing"
)

// BenchmarkCheck is all that `tideover check` works out, start and printing left out.
func BenchmarkCheck(b *testing.B) {
	for _, name := range []string{"kestrel-rise", "juniper-flat", "osprey-house", "lantern-row"} {
		b.Run(name, func(b *testing.B) {
			in := input(b, name)
			in.Proof = NamedProof
			for b.Loop() {
				if _, err := Run(context.Background(), in, nil); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
