package main

import (
	"bytes"

	"github.com/spf13/cobra"

	"seatward/internal/figure"
)

// pictures are the flags by which a command writes its charts beside the answer.
type pictures struct{ svg, png string }

func (p *pictures) flags(c *cobra.Command) {
	c.Flags().StringVar(&p.svg, "svg", "", "write the charts to a new SVG `FILE`")
	c.Flags().StringVar(&p.png, "png", "", "write them to a new PNG `FILE`")
	_ = c.MarkFlagFilename("svg", "svg")
	_ = c.MarkFlagFilename("png", "png")
}

// file is a file to be written.
type file struct {
	name string
	data []byte
}

// draw gives the pictures that were asked for.
func (p *pictures) draw(f *figure.Figure) ([]file, error) {
	var svg, png bytes.Buffer
	if p.svg != "" {
		if err := f.SVG(&svg); err != nil {
			return nil, err
		}
	}
	if p.png != "" {
		if err := f.PNG(&png); err != nil {
			return nil, err
		}
	}
	return []file{{p.svg, svg.Bytes()}, {p.png, png.Bytes()}}, nil
}

// writeAll writes the files that have a name, one after the other.
func writeAll(files ...file) error {
	for _, f := range files {
		if f.name == "" {
			continue
		}
		if err := write(f.name, f.data); err != nil {
			return err
		}
	}
	return nil
}

// write draws the figure and writes what was asked for.
func (p *pictures) write(f *figure.Figure) error {
	files, err := p.draw(f)
	if err != nil {
		return err
	}
	return writeAll(files...)
}
