package main

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"github.com/spf13/cobra"

	"seatward/catalog"
	"seatward/diag"
	"seatward/internal/exchange"
	"seatward/internal/table"
	"seatward/internal/yamlfile"
)

// importCommand makes a catalog file of a spreadsheet.
func (a *app) importCommand() *cobra.Command {
	var mapName, out string
	c := &cobra.Command{
		Use:   "import TABLE...",
		Short: "Make a catalog file of a spreadsheet",
		Long: "Make a catalog file of an XLSX workbook or of CSV files. Without --map they are\n" +
			"in the form that catalog export writes: a sheet, or a CSV file, for the\n" +
			"catalog, its families, sizes and so on. A table of any other form needs a\n" +
			"column map, a small file that says what its columns mean; docs/catalog.md\n" +
			"shows one. Nothing is written unless all of it can be read.",
		Example: "seatward catalog import examples/prices.csv --map examples/prices.map.yaml",
		Args:    between(1, -1, "the names of CSV or XLSX files"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"csv", "xlsx"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.Flags().StringVar(&mapName, "map", "", "column map `FILE`")
	c.Flags().StringVarP(&out, "output", "o", "",
		"catalog `FILE` to write, or a new folder for a file of each family; standard output without it")
	_ = c.MarkFlagFilename("map", "yaml", "yml")
	c.RunE = func(_ *cobra.Command, args []string) error {
		tree, list, err := a.imported(args, mapName)
		if err != nil {
			return err
		}
		f := &catalog.File{}
		if list.Err() == nil {
			list = append(list, yamlfile.DecodeTree(tree, f)...)
		}
		if list.Err() != nil {
			return list
		}
		catalogs, faults := catalog.Resolve(f)
		if list = append(list, faults...); list.Err() != nil {
			return list
		}
		for _, m := range append(list, catalog.Check(catalogs)...) {
			a.message(m) // errors of the check too: the file is written, and they are mended in the table
		}
		if out != "" && filepath.Ext(out) == "" {
			return a.families(out, tree)
		}
		data, err := yamlfile.WriteTree(tree)
		if err != nil {
			return err
		}
		if len(data) > yamlfile.MaxBytes {
			return fmt.Errorf("the catalog would have %d bytes, more than the %d that a catalog file may have: write -o FOLDER, for a file of each family", len(data), yamlfile.MaxBytes)
		}
		return a.put(out, data, "check it with: seatward catalog check "+out)
	}
	return c
}

// imported reads the tables and the map.
func (a *app) imported(names []string, mapName string) (*yamlfile.Tree, diag.List, error) {
	var options table.Options
	var m *exchange.MapFile
	if mapName != "" {
		data, err := a.read(mapName)
		if err != nil {
			return nil, nil, err
		}
		var list diag.List
		if m, list = exchange.ReadMap(shown(mapName), data); list.Err() != nil {
			return nil, nil, list
		}
		if options, list = m.Options(); list.Err() != nil {
			return nil, nil, list
		}
		if len(names) > 1 {
			return nil, nil, errors.New("a column map is for one table; import several one by one")
		}
	}
	var sheets []table.Sheet
	var all diag.List
	for _, name := range names {
		data, err := a.readUpTo(name, table.DefaultMaxBytes)
		if err != nil {
			return nil, nil, err
		}
		some, list := table.Read(shown(name), data, options)
		all, sheets = append(all, list...), append(sheets, some...)
	}
	if all.Err() != nil {
		return nil, nil, all
	}
	if m != nil {
		tree, list := exchange.ImportBy(m, shown(names[0]), sheets)
		return tree, append(all, list...), nil
	}
	tree, list := exchange.Import(shown(names[0]), sheets)
	return tree, append(all, list...), nil
}

// put writes a file, or prints it where no name is given.
func (a *app) put(name string, data []byte, then string) error {
	if name == "" {
		a.out.Write(data)
		return nil
	}
	if err := write(name, data); err != nil {
		return err
	}
	a.complain(fmt.Sprintf("wrote %s; %s", name, then))
	return nil
}

// exportCommand makes a spreadsheet of a catalog file.
func (a *app) exportCommand() *cobra.Command {
	var out, only string
	c := &cobra.Command{
		Use:   "export FILE",
		Short: "Make a spreadsheet of a catalog file",
		Long: "Make an XLSX workbook of a catalog file, or a folder of CSV files: one sheet for\n" +
			"the catalog, its families, sizes, ends and so on. catalog import makes the same\n" +
			"catalog of it again; nothing but comments is lost. --sheet prints one of them.",
		Example: "seatward catalog export catalog/demo/swing.yaml --sheet sizes",
		Args:    exactly(1, "the name of a catalog file"),
		ValidArgsFunction: func(*cobra.Command, []string, string) ([]string, cobra.ShellCompDirective) {
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.Flags().StringVarP(&out, "output", "o", "", "`FILE`.xlsx, or a folder for CSV files")
	c.Flags().StringVar(&only, "sheet", "", "print one sheet as CSV, by its `NAME`")
	c.MarkFlagsMutuallyExclusive("output", "sheet")
	c.RunE = func(_ *cobra.Command, args []string) error {
		if out == "" && only == "" {
			return errors.New("say where to: -o FILE.xlsx, or -o FOLDER for CSV files, or --sheet NAME to print one")
		}
		tree, err := a.tree(args[0])
		if err != nil {
			return err
		}
		if err := exchange.Lossless(tree); err != nil {
			return err
		}
		sheets := exchange.Export(tree)
		if only != "" {
			return a.printSheet(only, sheets)
		}
		if strings.EqualFold(filepath.Ext(out), ".xlsx") {
			data, err := table.WriteXLSX(sheets)
			if err != nil {
				return err
			}
			return a.put(out, data, "back: seatward catalog import "+out)
		}
		return a.folder(out, sheets)
	}
	return c
}

// printSheet prints one sheet as CSV.
func (a *app) printSheet(name string, sheets []table.Sheet) error {
	var names []string
	for _, s := range sheets {
		if s.Name == name {
			a.out.Write(table.WriteCSV(s))
			return nil
		}
		names = append(names, s.Name)
	}
	return fmt.Errorf("the catalog has no sheet %q; there are: %s", name, strings.Join(names, ", "))
}

// folder writes CSV files into a new folder.
func (a *app) folder(name string, sheets []table.Sheet) error {
	if ext := filepath.Ext(name); ext != "" {
		return fmt.Errorf("%s: a name that ends in .xlsx, or that of a new folder, is expected", name)
	}
	files := map[string][]byte{}
	for _, s := range sheets {
		files[s.Name+".csv"] = table.WriteCSV(s)
	}
	if err := writeFolder(name, files); err != nil {
		return err
	}
	a.complain(fmt.Sprintf("wrote %s; back: seatward catalog import %s/*.csv", name, name))
	return nil
}

// families writes a catalog file of each family into a new folder.
func (a *app) families(name string, tree *yamlfile.Tree) error {
	files := map[string][]byte{}
	for _, f := range tree.Get("families").Items {
		one := &yamlfile.Tree{Shape: yamlfile.KeyedTree}
		for i, key := range tree.Keys {
			one.Set(key, tree.Items[i])
		}
		one.Set("families", &yamlfile.Tree{Shape: yamlfile.ListTree, Items: []*yamlfile.Tree{f}})
		data, err := yamlfile.WriteTree(one)
		if err != nil {
			return err
		}
		files[f.Get("id").Text+".yaml"] = data
	}
	if err := writeFolder(name, files); err != nil {
		return err
	}
	a.complain(fmt.Sprintf("wrote %s; check it with: seatward catalog check %s/*.yaml", name, name))
	return nil
}

// writeFolder makes a new folder of files, which is there whole or not at all.
func writeFolder(name string, files map[string][]byte) error {
	if _, err := os.Lstat(name); err == nil {
		return fmt.Errorf("%s exists already; choose another name, or remove it first", name)
	}
	temp, err := os.MkdirTemp(filepath.Dir(name), ".seatward-*")
	if err != nil {
		return unwritable(name, err)
	}
	defer os.RemoveAll(temp)
	for file, data := range files {
		if err := os.WriteFile(filepath.Join(temp, file), data, 0o644); err != nil {
			return unwritable(name, err)
		}
	}
	if err := errors.Join(os.Chmod(temp, 0o755), os.Rename(temp, name)); err != nil {
		return unwritable(name, err)
	}
	return nil
}

// tree reads a catalog file word by word, once it is known to be one.
func (a *app) tree(name string) (*yamlfile.Tree, error) {
	data, err := a.read(name)
	if err != nil {
		return nil, err
	}
	if _, list := catalog.Parse(shown(name), data); list.Err() != nil {
		return nil, list
	}
	tree, list := yamlfile.ParseTree(shown(name), data)
	if list.Err() != nil {
		return nil, list
	}
	return tree, nil
}
