//go:build linux

package main

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"syscall"

	"golang.org/x/text/encoding/unicode"
)

// bytes changes a file below what its format knows: cut off, in another encoding, with bytes
// that no text has, references that multiply, nesting.
func (m mutator) bytes(data []byte) []byte {
	data = bytes.Clone(data)
	at := m.IntN(len(data) + 1)
	insert := func(s string) []byte { return append(data[:at:at], append([]byte(s), data[at:]...)...) }
	switch m.IntN(16) {
	case 0:
		return data[:at]
	case 1:
		for range 1 + m.IntN(20) {
			if len(data) > 0 {
				data[m.IntN(len(data))] = byte(m.IntN(256))
			}
		}
		return data
	case 2:
		return insert("\x00")
	case 3:
		return insert("\xff\xfe\x80")
	case 4:
		return append([]byte("\xef\xbb\xbf"), data...)
	case 5, 6:
		order := unicode.LittleEndian
		if m.IntN(2) == 0 {
			order = unicode.BigEndian
		}
		if out, err := unicode.UTF16(order, unicode.UseBOM).NewEncoder().Bytes(data); err == nil {
			return out
		}
		return data
	case 7:
		return bytes.ReplaceAll(data, []byte("\n"), []byte("\r\n"))
	case 8:
		return bytes.ReplaceAll(data, []byte("  "), []byte("\t"))
	case 9:
		return append(data, []byte("\n---\nstation: two\n")...)
	case 10: // references to references: nine to the ninth values
		var b strings.Builder
		b.WriteString("a0: &a0 [x, x, x, x, x, x, x, x, x]\n")
		for i := range 9 {
			n, p := string(rune('1'+i)), string(rune('0'+i))
			b.WriteString("a" + n + ": &a" + n + " [" + strings.TrimSuffix(strings.Repeat("*a"+p+", ", 9), ", ") +
				"]\n")
		}
		return append([]byte(b.String()), data...)
	case 11:
		return insert(strings.Repeat(m.oneOf([]string{"[", "{a: ", "- ", "\n  ", "(", "\"", "? ", "! ", "&a ", "|\n"}),
			1<<m.IntN(17)))
	case 12:
		return append(data, bytes.Repeat([]byte(m.oneOf([]string{" ", "\n", "# x\n", "x: 1\n", ",", "\x1b[2J"})),
			1<<m.IntN(19))...)
	case 13:
		return nil
	case 14:
		return append([]byte("%YAML 1.1\n%TAG ! tag:x,2000:\n---\n"), data...)
	default:
		return insert(m.oneOf([]string{
			"\u202e", "\u0085", "\u2028", "\x7f", "\x1b]0;x\x07", "\n<<: *x\n", " &a ",
			" *a ", " !!int ", ": : :", "\n\t",
		}))
	}
}

// odd puts something at the name that is no plain file with the data.
func (m mutator) odd(name string, data []byte) error {
	beside := filepath.Join(filepath.Dir(name), "beside")
	switch m.IntN(7) {
	case 0:
		return os.Mkdir(name, 0o755)
	case 1:
		return syscall.Mkfifo(name, 0o644)
	case 2:
		return os.Symlink("/dev/zero", name)
	case 3:
		return os.Symlink(name, name)
	case 4:
		return os.Symlink("/dev/null", name)
	case 5: // nothing there
		return nil
	default: // a link to the right file is as good as the file
		if err := os.WriteFile(beside, data, 0o644); err != nil {
			return err
		}
		return os.Symlink(beside, name)
	}
}
