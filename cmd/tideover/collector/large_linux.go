package collector

import "syscall"

// large asks the system to back memory with large pages, when it is touched; it reports
// whether the system will. Where it will not, nothing is lost.
func large(b []byte) bool {
	const hugePages = 14 // MADV_HUGEPAGE, madvise(2)
	return syscall.Madvise(b, hugePages) == nil
}
