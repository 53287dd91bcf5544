package table

import (
	"bufio"
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"strings"
	"unicode/utf8"

	"golang.org/x/text/encoding/charmap"
	utf "golang.org/x/text/encoding/unicode"
	"golang.org/x/text/transform"

	"seatward/diag"
)

const (
	streamHead = 256 << 10 // of a file, by which encoding and delimiter are found
	streamLine = 1 << 20   // the longest line that a stream takes
)

// Stream goes through a CSV file row by row, for files too large to be held as a Sheet. Its
// dialect is found as Read finds it, from the first lines. The cells belong to the row: they
// are overwritten by the next one. Where take reports false the rest is not read.
func Stream(filename string, in io.Reader, o Options, take func(line int, cells [][]byte) bool) diag.List {
	r := &reader{file: filename, options: o}
	buffered := bufio.NewReaderSize(in, streamHead)
	head, err := buffered.Peek(streamHead)
	if err != nil && !errors.Is(err, io.EOF) && !errors.Is(err, bufio.ErrBufferFull) {
		r.unread(err)
		return r.list
	}
	if hasPrefix(head, magicOLE) {
		r.old(head)
		return r.list
	}
	if cut := bytes.LastIndexByte(head, '\n'); len(head) == streamHead && cut > 0 {
		head = head[:cut+1] // no letter and no row is cut in two
	}
	text, ok := r.decode(head)
	if !ok {
		return r.list
	}
	delimiter, ok := r.delimiter(text)
	if !ok {
		return r.list
	}
	s := &streamer{r: r, in: r.decoded(buffered, head), comma: delimiter, take: take}
	s.run()
	return r.list
}

// decoded is the stream as UTF-8, by what its head showed.
func (r *reader) decoded(in *bufio.Reader, head []byte) *bufio.Reader {
	switch {
	case hasPrefix(head, bigUTF16), hasPrefix(head, litUTF16):
		return bufio.NewReaderSize(transform.NewReader(in, utf.UTF16(utf.BigEndian, utf.ExpectBOM).NewDecoder()),
			streamLine)
	case hasPrefix(head, markUTF8):
		_, _ = in.Discard(len(markUTF8))
	case r.options.Encoding == "latin-1", !utf8.Valid(head):
		return bufio.NewReaderSize(charmap.Windows1252.NewDecoder().Reader(in), streamLine)
	}
	return bufio.NewReaderSize(in, streamLine)
}

func (r *reader) unread(err error) {
	r.fault(diag.Message{
		ID: "file-unreadable", Text: "the file cannot be read to its end", Found: err.Error(),
		Expected: "a whole file", Mend: "copy the file again",
	})
}

// streamer cuts lines into cells.
type streamer struct {
	r     *reader
	in    *bufio.Reader
	comma rune
	take  func(line int, cells [][]byte) bool
	cells [][]byte
	line  int
}

func (s *streamer) run() {
	for {
		text, err := s.in.ReadSlice('\n')
		if errors.Is(err, bufio.ErrBufferFull) {
			s.r.fault(diag.Message{
				ID: "line-too-long", Place: diag.Place{Line: s.line + 1, Col: 1},
				Text: "the line has no end", Found: fmt.Sprintf("more than %d bytes", streamLine),
				Expected: "one row in each line", Mend: "save the table again as CSV",
			})
			return
		}
		if err != nil && !errors.Is(err, io.EOF) {
			s.r.unread(err)
			return
		}
		end := err != nil
		if len(text) > 0 && !s.row(text) || end {
			return
		}
	}
}

// row hands over one line. A line with a quote in it goes through the CSV library, with the
// lines that its open quotes reach into.
func (s *streamer) row(text []byte) bool {
	s.line++
	at := s.line
	text = bytes.TrimRight(text, "\r\n")
	if bytes.IndexByte(text, '"') >= 0 {
		return s.quoted(at, string(text))
	}
	if bytes.IndexByte(text, 0) >= 0 {
		s.r.fault(diag.Message{
			ID: "not-text", Place: diag.Place{Line: at, Col: bytes.IndexByte(text, 0) + 1},
			Text: "the file is not plain text", Found: "a zero byte", Expected: "a CSV or .xlsx file",
			Mend: "save the table as CSV UTF-8 or as .xlsx",
		})
		return false
	}
	s.cells = s.cells[:0]
	for {
		cut := bytes.IndexRune(text, s.comma)
		if cut < 0 || len(s.cells) == MaxColumns {
			break
		}
		s.cells = append(s.cells, text[:cut])
		text = text[cut+utf8.RuneLen(s.comma):]
	}
	s.cells = append(s.cells, text)
	return s.take(at, s.cells)
}

// mostJoined is how many lines one quoted cell may reach over.
const mostJoined = 50

func (s *streamer) quoted(at int, text string) bool {
	for joined := 0; strings.Count(text, `"`)%2 == 1 && joined < mostJoined; joined++ {
		more, err := s.in.ReadSlice('\n')
		if len(more) == 0 && err != nil {
			break
		}
		text += "\n" + strings.TrimRight(string(more), "\r\n")
		s.line++
	}
	c := csv.NewReader(strings.NewReader(text))
	c.Comma, c.FieldsPerRecord = s.comma, -1
	record, err := c.Read()
	if err != nil {
		var p *csv.ParseError
		if errors.As(err, &p) {
			p.Line, p.StartLine = p.Line+at-1, p.StartLine+at-1
		}
		s.r.quotes(err)
		return false
	}
	s.cells = s.cells[:0]
	for _, field := range record[:min(len(record), MaxColumns)] {
		s.cells = append(s.cells, []byte(field))
	}
	return s.take(at, s.cells)
}
