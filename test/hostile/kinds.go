//go:build linux

package main

import (
	"bytes"
	"fmt"
	"image"
	"image/png"
	"math/rand/v2"
	"os"
	"path/filepath"
	"strings"

	"seatward/internal/exchange"
	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

// attempt is one case: files in a folder, and what is asked about them.
type attempt struct {
	kind string
	dir  string
	args []string // of the command
	out  string   // file or folder that the command writes; "" where it writes none
	body []byte   // of a request to the server in place of a command
	path string   // that it goes to
}

// sources are the good files from which the wrong ones are made.
type sources struct {
	stations, catalogs, rules, profiles, maps, clauses []source
	prices                                             []byte
}

// source is a good file, and its tree where it is YAML.
type source struct {
	name string
	data []byte
	tree *yamlfile.Tree
}

// clause is a piece of a specification, as a designer pastes it.
const clause = `2.01 CHECK VALVES
A. Check valves shall conform to AWWA C508 and be of the swing type, body ASTM A536 65-45-12.
B. Flanges: ASME B16.1 Class 125. Valves stand in the vertical run.

C. Test at 1.5 times the rating, API 598, no leakage.
`

// readSources reads the good files of the repository.
func readSources(root string) (*sources, error) {
	s := &sources{clauses: []source{{name: "clause.txt", data: []byte(clause)}}}
	for _, g := range []struct {
		into    *[]source
		pattern string
	}{
		{&s.stations, "examples/*.station.yaml"},
		{&s.stations, "internal/soak/testdata/broke/*.yaml"},
		{&s.catalogs, "catalog/demo/*.yaml"},
		{&s.rules, "rules/*.yaml"},
		{&s.profiles, "examples/profile.yaml"},
		{&s.maps, "examples/prices.map.yaml"},
	} {
		names, err := filepath.Glob(filepath.Join(root, g.pattern))
		if err != nil || len(names) == 0 {
			return nil, fmt.Errorf("no file %s", g.pattern)
		}
		for _, n := range names {
			data, err := os.ReadFile(n)
			if err != nil {
				return nil, err
			}
			tree, list := yamlfile.ParseTree(n, data)
			if list.Err() != nil {
				return nil, list
			}
			*g.into = append(*g.into, source{filepath.Base(n), data, tree})
		}
	}
	var err error
	s.prices, err = os.ReadFile(filepath.Join(root, "examples/prices.csv"))
	return s, err
}

// maker makes the cases of one kind.
type maker struct {
	kind   string
	weight int
	make   func(s *sources, m mutator, c *attempt) error
}

func makers() []maker {
	return []maker{
		{"station", 9, (*sources).station},
		{"catalog", 5, (*sources).catalog},
		{"rules", 3, (*sources).rule},
		{"profile", 3, (*sources).profile},
		{"map", 2, (*sources).columnMap},
		{"csv", 3, (*sources).csv},
		{"xlsx", 4, (*sources).xlsx},
		{"clause", 2, (*sources).clause},
		{"api", 5, (*sources).api},
	}
}

// make makes the case of a number.
func (s *sources) make(dir string, seed uint64, number int) (*attempt, error) {
	m := mutator{rand.New(rand.NewPCG(seed, uint64(number)))}
	all, sum := makers(), 0
	for _, k := range all {
		sum += k.weight
	}
	pick := m.IntN(sum)
	for _, k := range all {
		if pick -= k.weight; pick < 0 {
			c := &attempt{kind: k.kind, dir: dir}
			return c, k.make(s, m, c)
		}
	}
	return nil, fmt.Errorf("no kind for case %d", number)
}

func (m mutator) source(list []source) source { return list[m.IntN(len(list))] }

// changed is a good file made wrong.
func (m mutator) changed(s source) []byte {
	data := s.data
	if s.tree != nil && m.IntN(5) > 0 {
		t := clone(s.tree)
		m.tree(t)
		data = written(t, false)
		if m.IntN(4) > 0 {
			return data
		}
	}
	return m.bytes(data)
}

// put writes a file of the case, or something that is no plain file.
func (m mutator) put(c *attempt, name string, data []byte) (string, error) {
	full := filepath.Join(c.dir, name)
	if m.IntN(25) == 0 {
		return full, m.odd(full, data)
	}
	return full, os.WriteFile(full, data, 0o644)
}

// good writes a file of the case as it is.
func good(c *attempt, s source) (string, error) {
	full := filepath.Join(c.dir, "good-"+s.name)
	return full, os.WriteFile(full, s.data, 0o644)
}

func (s *sources) station(m mutator, c *attempt) error {
	name, err := m.put(c, "station.yaml", m.changed(m.source(s.stations)))
	c.args = [][]string{
		{"select", name, "--quick", "--json"},
		{"select", name, "--quick"},
		{"select", name, "--valve", "swing/6in", "--quick", "--all"},
		{"explain", name, "--valve", "flap/6in"},
		{"loss", name, "--valve", "ball-pocket/6in", "--json"},
		{"trip", name, "--events"},
		{"trip", name, "--valve", "swing/6in", "--event", "power-failure-high", "--no-remedies", "--samples", "0"},
		{"write", "datasheet", name, "--quick", "--valve", "flap/6in", "-o", filepath.Join(c.dir, "out")},
	}[m.IntN(8)]
	if c.args[0] == "write" {
		c.out = "out"
	}
	return err
}

func (s *sources) catalog(m mutator, c *attempt) error {
	name, err := m.put(c, "catalog.yaml", m.changed(m.source(s.catalogs)))
	if err != nil {
		return err
	}
	st, err := good(c, s.stations[0])
	c.args = [][]string{
		{"catalog", "check", name},
		{"catalog", "list", "--all", "--catalog", name},
		{"catalog", "export", name, "-o", filepath.Join(c.dir, "out.xlsx")},
		{"catalog", "export", name, "-o", filepath.Join(c.dir, "out")},
		{"select", st, "--quick", "--json", "--catalog", name},
		{"select", st, "--quick", "--all", "--catalog", name},
	}[m.IntN(6)]
	if len(c.args) > 3 && c.args[3] == "-o" {
		c.out = filepath.Base(c.args[4])
	}
	return err
}

func (s *sources) rule(m mutator, c *attempt) error {
	name, err := m.put(c, "rules.yaml", m.changed(m.source(s.rules)))
	if err != nil {
		return err
	}
	st, err := good(c, m.source(s.stations))
	c.args = [][]string{
		{"rules", "--rules", name},
		{"select", st, "--quick", "--json", "--rules", name, "--valve", "swing/6in"},
		{"select", st, "--quick", "--rules", name},
	}[m.IntN(3)]
	return err
}

func (s *sources) profile(m mutator, c *attempt) error {
	text := m.changed(s.profiles[0])
	if m.IntN(3) == 0 {
		text = append(text, []byte("\nlogo: logo.png\n")...)
		var picture bytes.Buffer
		if err := png.Encode(&picture, image.NewGray(image.Rect(0, 0, 1<<m.IntN(12), 1<<m.IntN(12)))); err != nil {
			return err
		}
		if _, err := m.put(c, "logo.png", m.bytes(picture.Bytes())); err != nil {
			return err
		}
	}
	name, err := m.put(c, "profile.yaml", text)
	if err != nil {
		return err
	}
	st, err := good(c, s.stations[0])
	c.args = []string{
		"write", m.oneOf([]string{"datasheet", "test-form", "specification", "installation"}), st,
		"--quick", "--valve", "flap/6in", "--profile", name, "-o", filepath.Join(c.dir, "out"),
	}
	c.args = append(c.args, "--format", m.oneOf([]string{"pdf", "docx", "xlsx", "html", "md"}))
	c.out = "out"
	return err
}

func (s *sources) columnMap(m mutator, c *attempt) error {
	name, err := m.put(c, "map.yaml", m.changed(s.maps[0]))
	if err != nil {
		return err
	}
	prices, err := good(c, source{name: "prices.csv", data: s.prices})
	c.args = []string{"catalog", "import", prices, "--map", name, "-o", filepath.Join(c.dir, "out.yaml")}
	c.out = "out.yaml"
	return err
}

func (s *sources) csv(m mutator, c *attempt) error {
	c.out = m.oneOf([]string{"out.yaml", "out"})
	to := []string{"-o", filepath.Join(c.dir, c.out)}
	if m.IntN(2) == 0 {
		data := m.bytes(s.prices)
		if m.IntN(3) == 0 { // a price list without end
			data = append(bytes.Clone(s.prices),
				bytes.Repeat(s.prices[bytes.LastIndexByte(bytes.TrimSpace(s.prices), '\n')+1:], 1<<m.IntN(18))...)
		}
		table, err := m.put(c, "prices.csv", data)
		if err != nil {
			return err
		}
		by, err := good(c, s.maps[0])
		c.args = append([]string{"catalog", "import", table, "--map", by}, to...)
		return err
	}
	sheets := exchange.Export(m.source(s.catalogs).tree)
	for range m.IntN(3) {
		m.cells(sheets)
	}
	c.args = []string{"catalog", "import"}
	which := m.IntN(len(sheets))
	for i, sh := range sheets {
		data := table.WriteCSV(sh)
		if i == which && m.IntN(2) == 0 {
			data = m.bytes(data)
		}
		name, err := m.put(c, strings.ReplaceAll(sh.Name, "/", "_")+".csv", data)
		if err != nil && !os.IsExist(err) {
			return err
		}
		c.args = append(c.args, name)
	}
	c.args = append(c.args, to...)
	return nil
}

func (s *sources) xlsx(m mutator, c *attempt) error {
	data, err := m.workbook(exchange.Export(m.source(s.catalogs).tree))
	if err != nil {
		return err
	}
	name, err := m.put(c, "book.xlsx", data)
	c.out = m.oneOf([]string{"out.yaml", "out"})
	c.args = []string{"catalog", "import", name, "-o", filepath.Join(c.dir, c.out)}
	return err
}

func (s *sources) clause(m mutator, c *attempt) error {
	data := bytes.Repeat(s.clauses[0].data, 1<<m.IntN(13))
	name, err := m.put(c, "clause.txt", m.bytes(data))
	if err != nil {
		return err
	}
	c.args = []string{"standards", "swing/6in", "--text", name}
	if m.IntN(2) == 0 {
		st, err := good(c, s.stations[0])
		c.args = []string{
			"write", "submittal", st, "--quick", "--valve", "flap/6in", "--clause", name, "-o",
			filepath.Join(c.dir, "out"), "--format", m.oneOf([]string{"pdf", "docx", "xlsx", "html", "md"}),
		}
		c.out = "out"
		return err
	}
	return nil
}
