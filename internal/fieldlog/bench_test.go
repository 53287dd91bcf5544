package fieldlog

import (
	"bytes"
	"fmt"
	"io"
	"runtime"
	"strconv"
	"testing"
	"time"
)

// madeLog is a reader of a log that is made on the way: ten million rows of it take no room.
type madeLog struct {
	rows, at int
	buf      bytes.Buffer
	line     []byte
}

func (m *madeLog) Read(p []byte) (int, error) {
	for m.buf.Len() < len(p) && m.at < m.rows {
		if m.at == 0 {
			m.buf.WriteString("time,discharge pressure (bar),suction pressure (bar),flow (L/s),power (kW)\n")
		}
		b := time.Unix(1731629700, int64(m.at)*10_000_000).UTC().AppendFormat(m.line[:0], "2006-01-02 15:04:05.000")
		for i := range 4 {
			b = strconv.AppendFloat(append(b, ','), float64((m.at*7+i*131)%4000)/1000, 'f', 3, 64)
		}
		m.line = append(b, '\n')
		m.buf.Write(m.line)
		m.at++
	}
	if m.buf.Len() == 0 {
		return 0, io.EOF
	}
	return m.buf.Read(p)
}

// BenchmarkRead reads one and ten million rows of five columns.
func BenchmarkRead(b *testing.B) {
	for _, rows := range []int{1_000_000, 10_000_000} {
		b.Run(fmt.Sprint(rows), func(b *testing.B) {
			data, _ := io.ReadAll(&madeLog{rows: rows})
			b.SetBytes(int64(len(data)))
			for b.Loop() {
				l, list := Read("x.csv", bytes.NewReader(data), nil)
				if list.Err() != nil || l.Rows != rows || l.Channels[3].Len() != rows {
					b.Fatal(list)
				}
				var m runtime.MemStats
				runtime.GC()
				runtime.ReadMemStats(&m)
				b.ReportMetric(float64(m.HeapAlloc-uint64(len(data)))/1e6, "MB-held")
				runtime.KeepAlive(l)
			}
		})
	}
}
