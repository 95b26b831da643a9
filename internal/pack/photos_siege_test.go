package pack

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/png"
	"runtime"
	"runtime/debug"
	"testing"
)

// head is a PNG that promises a picture and has none: enough to be measured.
func head(width, height uint32, depth, kind byte) []byte {
	chunk := binary.BigEndian.AppendUint32([]byte("IHDR"), width)
	chunk = append(binary.BigEndian.AppendUint32(chunk, height), depth, kind, 0, 0, 0)
	out := append([]byte("\x89PNG\r\n\x1a\n"), 0, 0, 0, 13)
	return binary.BigEndian.AppendUint32(append(out, chunk...), crc32.ChecksumIEEE(chunk))
}

// TestPhotosByBytes: a photo is refused by the bytes its pixels take once decoded, at the
// most that any picture with such a head takes.
func TestPhotosByBytes(t *testing.T) {
	const grey, colour, alpha = 0, 2, 6
	for _, x := range []struct {
		width, height uint32
		depth, kind   byte
		left          string
	}{
		{5600, 5600, 16, alpha, "photo.pixels"},  // 251 MB
		{5600, 5600, 16, colour, "photo.pixels"}, // 251 MB
		{5600, 5600, 16, grey, "photo.pixels"},   // 251 MB, where one grey is see-through
		{4000, 4000, 16, alpha, "photo.broken"},  // 128 MB: read, and there is nothing behind the head
		{5600, 5600, 8, colour, "photo.broken"},  // 125 MB
		{60000, 60000, 1, grey, "photo.pixels"},
	} {
		var f picture
		if f.shrink(head(x.width, x.height, x.depth, x.kind)); f.left != x.left {
			t.Errorf("%d × %d, %d bits, kind %d: %q, want %q", x.width, x.height, x.depth, x.kind, f.left, x.left)
		}
	}
}

// TestOnePhotoAtATime: however lazy the collector is, the pictures of several photos do not
// lie side by side.
func TestOnePhotoAtATime(t *testing.T) {
	var b bytes.Buffer
	const side = 1500
	if err := (&png.Encoder{CompressionLevel: png.BestSpeed}).Encode(&b, image.NewNRGBA64(image.Rect(0, 0, side, side))); err != nil {
		t.Fatal(err)
	}
	defer debug.SetGCPercent(debug.SetGCPercent(800))
	runtime.GC()
	begin := held()
	for n := range 4 {
		var f picture
		if f.shrink(b.Bytes()); f.left != "" {
			t.Fatal(f.left)
		}
		if more := int64(held()) - int64(begin); more > side*side*8 {
			t.Errorf("after photo %d %d MB more are held", n+1, more>>20)
		}
	}
}

func held() uint64 {
	var m runtime.MemStats
	runtime.ReadMemStats(&m)
	return m.HeapAlloc
}
