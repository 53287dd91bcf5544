package main

import (
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"

	"github.com/spf13/cobra"

	"seatward/internal/chart"
	"seatward/internal/fieldlog"
	"seatward/internal/logpage"
	"seatward/internal/render/text"
	"seatward/quantity"
	"seatward/station"
)

// mapName is the log map that is taken without being named, beside the log.
const mapName = "log.map.yaml"

// logCommand reads a log and says what happened in it.
func (a *app) logCommand() *cobra.Command {
	var mapFile, saveMap, stationFile, page string
	var pictures pictures
	var in inputs
	c := &cobra.Command{
		Use:   "log FILE",
		Short: "Read a log of pressures, levels and pump states",
		Long: "Read a log of a logger or control system, CSV or XLSX of any dialect, and say\n" +
			"what happened: starts and stops, slam, waves, column separation, trapped air,\n" +
			"flutter; which data would lead to a wrong conclusion; and what this logger could\n" +
			"not have seen. Nothing is filled in between two readings. What the file does not\n" +
			"say is asked: --save-map writes how the log was read, as a small file to mend,\n" +
			"and --map takes it. A log.map.yaml beside the log is taken by itself. A station\n" +
			"file gives the main's length and wave speed, the liquid and the static head.\n" +
			"docs/logs.md says how to log a stop so that it can be read.",
		Example: "seatward log examples/stop.log.csv --station examples/layout.station.yaml",
		Args:    exactly(1, "the name of a log"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"csv", "xlsx", "txt"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.RunE = func(_ *cobra.Command, args []string) error {
		st, sys, err := a.stationOf(stationFile, &in)
		if err != nil {
			return err
		}
		l, err := a.readLog(args[0], mapFile)
		if err != nil {
			return err
		}
		x := chart.NewLog(l, st)
		if m := x.NoEvents(); m != nil {
			a.message(*m)
		}
		if err := pictures.write(x.Figure(sys)); err != nil {
			return err
		}
		if saveMap != "" {
			if err := write(saveMap, l.Map.YAML(l.Questions)); err != nil {
				return err
			}
		}
		if page != "" {
			data, err := logpage.Write(l, x, sys)
			if err != nil {
				return err
			}
			if err := write(page, data); err != nil {
				return err
			}
		}
		if in.json {
			return a.printJSON(x)
		}
		return text.Log(&a.out, x, a.print(sys))
	}
	c.Flags().StringVar(&mapFile, "map", "", "log map `FILE`: how the log is to be read")
	c.Flags().StringVar(&saveMap, "save-map", "", "write how the log was read to a new `FILE`")
	c.Flags().StringVar(&stationFile, "station", "", "station `FILE` that the log is of")
	c.Flags().StringVar(&page, "page", "", "write a page to zoom in, HTML that needs no network, to a new `FILE`")
	_ = c.MarkFlagFilename("map", "yaml", "yml")
	_ = c.MarkFlagFilename("station", "yaml", "yml")
	in.formFlags(c)
	pictures.flags(c)
	return c
}

// stationOf reads the station of a log, where one is named, and the units of the answer.
func (a *app) stationOf(name string, in *inputs) (*station.Station, quantity.System, error) {
	if name == "" {
		sys, err := in.system(quantity.SI)
		return nil, sys, err
	}
	st, err := a.station(name)
	if err != nil {
		return nil, quantity.SI, err
	}
	sys, err := in.system(st.Units)
	return st, sys, err
}

// readLog reads a log by its map. Warnings go to the reader at once.
func (a *app) readLog(name, by string) (*fieldlog.Log, error) {
	taken := false
	if beside := filepath.Join(filepath.Dir(name), mapName); by == "" && name != "-" {
		if _, err := os.Stat(beside); err == nil {
			by, taken = beside, true
		} else if !errors.Is(err, os.ErrNotExist) {
			return nil, unreadable(beside, err)
		}
	}
	var m *fieldlog.MapFile
	if by != "" {
		data, err := a.read(by)
		if err != nil {
			return nil, err
		}
		read, list := fieldlog.ReadMap(shown(by), data)
		if list.Err() != nil {
			return nil, list
		}
		m = read
	}
	var from io.Reader = a.in
	if name != "-" {
		f, err := open(name)
		if err != nil {
			return nil, unreadable(name, err)
		}
		defer f.Close()
		from = f
	}
	l, list := fieldlog.Read(shown(name), from, m)
	if list.Err() != nil {
		return nil, list
	}
	for _, w := range list {
		a.message(w)
	}
	if taken {
		l.Notes = append(l.Notes, fmt.Sprintf("read by %s, which stands beside the log", by))
	}
	return l, nil
}
