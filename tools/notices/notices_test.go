package main

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// piece is a module with files in its folder.
func piece(t *testing.T, title string, files map[string]string) module {
	t.Helper()
	dir := t.TempDir()
	for name, text := range files {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	return module{title, dir}
}

func TestNotices(t *testing.T) {
	a := piece(t, "a v1", map[string]string{"LICENSE": "same\r\ntext  \n", "license.go": "package a"})
	b := piece(t, "b v2", map[string]string{"COPYING.md": "\n\nsame\ntext\n", "NOTICE": "of b", "readme": "x"})
	out, err := notices([]module{a, b})
	if err != nil {
		t.Fatal(err)
	}
	text := string(out)
	if strings.Count(text, "same\ntext") != 1 ||
		!strings.Contains(text, "a v1 (LICENSE)\nb v2 (COPYING.md)\n\nsame\ntext\n") ||
		!strings.Contains(text, "b v2 (NOTICE)\n\nof b\n") || strings.Contains(text, "package a") {
		t.Errorf("%s", text)
	}
	if _, err := notices([]module{a, piece(t, "c v3", map[string]string{"AUTHORS": "who"})}); err == nil ||
		!strings.Contains(err.Error(), "c v3 has no license file") {
		t.Errorf("a module without a license is passed on: %v", err)
	}
}
