package daemon

import (
	"bytes"
	"fmt"
	"os"
	"runtime/debug"
	"syscall"
)

// letGo gives back the memory that only the start needed: the heap's, and the
// pages of the program itself, most of which made tables that now stand.
func letGo() {
	debug.FreeOSMemory()
	unmap()
}

// unmap lets go of the pages of the program. What is used again is mapped anew from
// the page cache, without a read: a turn's takes less than a millisecond.
func unmap() {
	itself, err := os.Readlink("/proc/self/exe")
	if err != nil {
		return // not on this system
	}
	maps, err := os.ReadFile("/proc/self/maps")
	if err != nil {
		return
	}
	for line := range bytes.Lines(maps) {
		var from, to, offset, inode uintptr
		var may, device, path string
		if n, _ := fmt.Sscanf(string(line), "%x-%x %s %x %s %d %s", &from, &to, &may, &offset, &device, &inode, &path); n == 7 && path == itself && may[1] == '-' {
			_, _, _ = syscall.Syscall(syscall.SYS_MADVISE, from, to-from, syscall.MADV_DONTNEED) // a hint: where it is refused nothing is lost
		}
	}
}
