package table

import (
	"fmt"
	"strings"
	"testing"
)

// streamed is a stream as text: its rows with their lines.
func streamed(data string, o Options) (string, error) {
	var b strings.Builder
	list := Stream("f.csv", strings.NewReader(data), o, func(line int, cells [][]byte) bool {
		fmt.Fprintf(&b, "%d:", line)
		for _, c := range cells {
			fmt.Fprintf(&b, "<%s>", c)
		}
		return true
	})
	return b.String(), list.Err()
}

func TestStream(t *testing.T) {
	for _, tt := range []struct{ name, data, want string }{
		{"comma", "a,b\n1,2\n", "1:<a><b>2:<1><2>"},
		{"no end of line", "a;b\r\n1;2", "1:<a><b>2:<1><2>"},
		{"blank line", "a\tb\n\n1\t2\n", "1:<a><b>2:<>3:<1><2>"},
		{"quotes", "a;b\n\"1;5\";\"say \"\"x\"\"\"\n3;4\n", "1:<a><b>2:<1;5><say \"x\">3:<3><4>"},
		{"quotes over lines", "a,b\n\"1\n2\",3\n4,5\n", "1:<a><b>2:<1\n2><3>4:<4><5>"},
		{"mark", "\ufeffa,b\n1,2\n", "1:<a><b>2:<1><2>"},
		{"Latin-1", "T \xb0C;b\n1;2\n", "1:<T °C><b>2:<1><2>"},
		{"UTF-16", "\xff\xfea\x00;\x00b\x00\n\x001\x00;\x002\x00\n\x00", "1:<a><b>2:<1><2>"},
	} {
		got, err := streamed(tt.data, Options{})
		if got != tt.want || err != nil {
			t.Errorf("%s: %s, %v, want %s", tt.name, got, err, tt.want)
		}
	}
}

func TestStreamFaults(t *testing.T) {
	for _, tt := range []struct{ name, data, want string }{
		{"open quote", "a,b\n\"1,2\n", "f.csv:2"},
		{"zero byte behind the head", "a,b\n" + strings.Repeat("1,2\n", streamHead/4+10) + "1,\x00\n", "not-text"},
		{"a line without an end", "a,b\n" + strings.Repeat("1,2\n", streamHead/4+10) + strings.Repeat("x",
			streamLine+10), "line-too-long"},
		{"old workbook", magicOLE + "x", "file-old"},
	} {
		_, err := streamed(tt.data, Options{})
		if err == nil || !strings.Contains(err.Error(), tt.want) {
			t.Errorf("%s: %v, want %s", tt.name, err, tt.want)
		}
	}
}

// TestStreamAsRead: a stream and a sheet of one file hold the same cells.
func TestStreamAsRead(t *testing.T) {
	data := "time;\"P; bar\"\n\"1,5\";2\n3;\"x\"\"y\"\n"
	sheets, list := Read("f.csv", []byte(data), Options{})
	if list.Err() != nil {
		t.Fatal(list)
	}
	var b strings.Builder
	for i, row := range sheets[0].Rows {
		fmt.Fprintf(&b, "%d:", i+1)
		for _, c := range row {
			fmt.Fprintf(&b, "<%s>", c.Text)
		}
	}
	if got, err := streamed(data, Options{}); got != b.String() || err != nil {
		t.Errorf("the stream has %s, the sheet %s, %v", got, b.String(), err)
	}
}
