package main

import (
	"errors"
	"io"
	"io/fs"
	"os"
	"syscall"
	"time"
)

// pipePatience is how long a named pipe may stand without anybody who writes into it.
const pipePatience = 5 * time.Second

// errNobodyWrites is the fault of a named pipe that stays empty.
var errNobodyWrites = errors.New("it is a pipe that nobody writes into")

// open opens a file to be read. Opening a named pipe waits for who writes into it, forever
// where nobody does, and no signal ends that; so it is opened without waiting.
func open(name string) (io.ReadCloser, error) {
	info, err := os.Stat(name)
	if err != nil || info.Mode()&fs.ModeNamedPipe == 0 {
		return os.Open(name)
	}
	f, err := os.OpenFile(name, os.O_RDONLY|syscall.O_NONBLOCK, 0)
	if err != nil {
		return nil, err
	}
	return &pipe{File: f}, nil
}

// pipe is a named pipe. Until its first byte an end only means that nobody writes yet.
type pipe struct {
	*os.File
	begun bool
}

// Read is that of an io.Reader.
func (p *pipe) Read(out []byte) (int, error) {
	for since := time.Now(); ; time.Sleep(10 * time.Millisecond) {
		n, err := p.File.Read(out)
		if p.begun = p.begun || n > 0; p.begun || !errors.Is(err, io.EOF) {
			return n, err
		}
		if time.Since(since) > pipePatience {
			return 0, errNobodyWrites
		}
	}
}
