package main

import (
	"os"
	"path/filepath"
	"testing"
)

// TestFreeBytes: the layout is that of proc(5) and of the kernel's document on
// control groups, version 2.
func TestFreeBytes(t *testing.T) {
	tests := []struct {
		name  string
		files map[string]string
		want  float64
	}{
		{"nothing known", nil, unknownBytes},
		{"machine", map[string]string{"proc/meminfo": "MemTotal: 8000 kB\nMemAvailable:    3000 kB\n"}, 3000 * 1024},
		{"no limit", map[string]string{
			"proc/meminfo": "MemAvailable: 3000 kB\n", "proc/self/cgroup": "0::/\n", "sys/fs/cgroup/memory.max": "max\n", "sys/fs/cgroup/memory.current": "5\n",
		}, 3000 * 1024},
		{"limit of the group above", map[string]string{
			"proc/meminfo": "MemAvailable: 3000 kB\n", "proc/self/cgroup": "1:cpu:/other\n0::/a/b\n",
			"sys/fs/cgroup/a/b/memory.max": "max\n", "sys/fs/cgroup/a/b/memory.current": "1000\n",
			"sys/fs/cgroup/a/memory.max": "100000\n", "sys/fs/cgroup/a/memory.current": "60000\n",
			"sys/fs/cgroup/a/memory.stat": "anon 30000\ninactive_file 20000\n",
		}, 60000},
		{"limit used up", map[string]string{
			"proc/self/cgroup": "0::/a\n", "sys/fs/cgroup/a/memory.max": "1000\n", "sys/fs/cgroup/a/memory.current": "2000\n",
		}, 0},
	}
	for _, tt := range tests {
		root := t.TempDir()
		for name, text := range tt.files {
			name = filepath.Join(root, name)
			if err := os.MkdirAll(filepath.Dir(name), 0o777); err != nil {
				t.Fatal(err)
			}
			if err := os.WriteFile(name, []byte(text), 0o666); err != nil {
				t.Fatal(err)
			}
		}
		if got := freeBytes(root); got != tt.want {
			t.Errorf("%s: %g bytes, want %g", tt.name, got, tt.want)
		}
	}
}
