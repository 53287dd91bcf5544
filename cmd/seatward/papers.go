package main

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"github.com/spf13/cobra"

	"seatward/diag"
	"seatward/internal/clause"
	"seatward/internal/document"
	"seatward/internal/program"
	"seatward/internal/render"
)

// paperFlags are the flags of write beside those in common.
type paperFlags struct {
	inputs
	valves, formats, options, clauses []string
	folder, profile, templates        string
	paper, date, revision, number     string
	language                          string
	force, phrases                    bool
}

// allKinds stands for every kind of document.
const allKinds = "all"

// allValves stands for every valve that the study judges.
const allValves = "all"

// writeCommand writes documents.
func (a *app) writeCommand() *cobra.Command {
	var in paperFlags
	var lines []string
	for _, k := range document.Kinds() {
		lines = append(lines, fmt.Sprintf("  %-14s %s", k.ID, k.What))
	}
	c := &cobra.Command{
		Use:   "write KIND FILE...",
		Short: "Write the papers: data sheet, submittal, specification and others",
		Long: "Write documents from the study of a station. The word all stands for every kind.\n" +
			strings.Join(lines, "\n") + "\n" +
			"Without --valve they tell the best valve; --valve all writes one for each valve\n" +
			"judged. A profile tells whose papers they are and for which project; what nobody\n" +
			"told stands as a blank and is listed. FILE is a station file.",
		Example:     "seatward write datasheet examples/layout.station.yaml -o artifacts --force\nseatward write test-form examples/layout.station.yaml --phrases",
		Args:        between(2, -1, "a kind of document, then station files"),
		Annotations: map[string]string{exitNote: "0 written; 1 no answer, or it cannot be written; 2 bad input, and nothing is written"},
		ValidArgsFunction: func(_ *cobra.Command, args []string, _ string) ([]string, cobra.ShellCompDirective) {
			if len(args) == 0 {
				return kindIDs(), cobra.ShellCompDirectiveNoFileComp
			}
			return []string{"yaml", "yml"}, cobra.ShellCompDirectiveFilterFileExt
		},
	}
	c.RunE = func(c *cobra.Command, args []string) error { return a.papers(c.Context(), args[0], args[1:], &in) }
	f := c.Flags()
	f.StringArrayVar(&in.valves, "valve", nil,
		"the valve by its `ID`, such as flap/6in; may be repeated: a comparison sets them side by side")
	_ = c.RegisterFlagCompletionFunc("valve", completeValves)
	f.StringArrayVar(&in.options, "option", nil,
		"`OPTION=CHOICE` of the valve, such as elastomer=EPDM; may be repeated: the rest is completed")
	f.StringArrayVar(&in.formats, "format", nil,
		"`FORMAT`: pdf, docx, xlsx, html or md; that in which the kind is handed over as a rule without it")
	_ = c.RegisterFlagCompletionFunc("format",
		cobra.FixedCompletions(formatNames(), cobra.ShellCompDirectiveNoFileComp))
	f.StringVarP(&in.folder, "output", "o", ".", "`FOLDER` to write into; made where there is none")
	_ = c.MarkFlagDirname("output")
	f.StringVar(&in.profile, "profile", "", "profile `FILE`: company, logo, project")
	f.StringVar(&in.templates, "templates", "", "`FOLDER` with wording files (*.yaml) that replace phrases")
	_ = c.MarkFlagDirname("templates")
	f.StringArrayVar(&in.clauses, "clause", nil,
		"specification as a text or Word `FILE`, which the submittal answers paragraph by paragraph; may be repeated")
	f.StringVar(&in.paper, "paper", "", "`letter or A4`; that of the profile without it")
	f.StringVar(&in.language, "language", "",
		"`LANGUAGE` of the papers: en, es, or that of your own wording files; that of the profile without it")
	_ = c.RegisterFlagCompletionFunc("language",
		cobra.FixedCompletions(document.Languages(), cobra.ShellCompDirectiveNoFileComp))
	f.StringVar(&in.date, "date", "", "`DATE` of the documents, year-month-day; the program looks at no clock")
	f.StringVar(&in.revision, "revision", "", "`REVISION` of the documents")
	f.StringVar(&in.number, "number", "", "`NUMBER` of the documents")
	f.BoolVar(&in.force, "force", false, "write over files that exist")
	f.BoolVar(&in.phrases, "phrases", false, "print a wording file with every phrase of the documents, and write none")
	f.BoolVar(&in.quick, "quick", false, "leave slam out, where a kind needs no pump trip")
	in.dataFlags(c)
	in.ruleFlags(c)
	in.formFlags(c)
	return c
}

func kindIDs() []string {
	out := []string{allKinds}
	for _, k := range document.Kinds() {
		out = append(out, k.ID)
	}
	return out
}

func formatNames() []string {
	var out []string
	for _, f := range render.Formats() {
		out = append(out, f.Name)
	}
	return out
}

// paper is a document to be written, with the formats asked for.
type paper struct {
	doc     *document.Document
	formats []string
	name    string
}

func (a *app) papers(ctx context.Context, kind string, files []string, in *paperFlags) error {
	kinds := document.Kinds()
	if kind != allKinds {
		k, err := document.KindNamed(kind)
		if err != nil {
			return err
		}
		kinds = []document.Kind{k}
	}
	for _, f := range in.formats {
		if _, err := render.Named(f); err != nil {
			return err
		}
	}
	base, err := a.paperRequest(in)
	if err != nil {
		return err
	}
	var out []file
	seen := map[string]string{}
	for _, name := range files {
		papers, err := a.papersOf(ctx, name, kinds, base, in)
		if err != nil {
			return err
		}
		for _, p := range papers {
			made, err := a.files(&p, in.folder)
			if err != nil {
				return err
			}
			for _, f := range made {
				if other, twice := seen[f.name]; twice {
					return fmt.Errorf("%s and %s would both be written to %s; give the stations different names", other,
						name, f.name)
				}
				seen[f.name] = name
			}
			out = append(out, made...)
		}
	}
	if in.phrases {
		_, err := a.out.WriteString(base.Wording.Starter())
		return err
	}
	if kind == allKinds {
		if unused := base.Wording.Unused(); len(unused) > 0 {
			fmt.Fprintf(a.err, "seatward: no document has the phrase %q of the wording file\n", unused[0])
		}
	}
	return a.writePapers(in, out)
}

// writePapers writes all or, where something is in the way, nothing.
func (a *app) writePapers(in *paperFlags, out []file) error {
	if !in.force {
		for _, f := range out {
			if _, err := os.Lstat(f.name); err == nil {
				return fmt.Errorf("%s exists already; nothing is written: choose another folder with -o, or write over it with --force", f.name)
			}
		}
	}
	if err := os.MkdirAll(in.folder, 0o755); err != nil {
		return unwritable(in.folder, err)
	}
	for i, f := range out {
		if err := replace(f.name, f.data); err != nil {
			return fmt.Errorf("%w; %d of %d files are written, and whole", err, i, len(out))
		}
	}
	if in.json {
		list := paperList{Schema: papersSchema, Program: program.This(), Written: []writtenPaper{}}
		for _, f := range out {
			list.Written = append(list.Written, writtenPaper{f.name, len(f.data)})
		}
		return a.printJSON(list)
	}
	for _, f := range out {
		fmt.Fprintf(&a.out, "%s\n", f.name)
	}
	return nil
}

// papersSchema names the machine form of what was written.
const papersSchema = "seatward.papers/1"

// paperList is the machine form of what was written.
type paperList struct {
	Schema  string          `json:"schema"`
	Program program.Program `json:"program"`
	Written []writtenPaper  `json:"written"`
}

type writtenPaper struct {
	File  string `json:"file"`
	Bytes int    `json:"bytes"`
}

// papersOf makes the documents of one station.
func (a *app) papersOf(
	ctx context.Context, name string, kinds []document.Kind, base document.Request, in *paperFlags,
) ([]paper, error) {
	data := in.inputs
	data.valve = ""
	alone := len(in.valves) == 1 && in.valves[0] != allValves &&
		!slices.ContainsFunc(kinds, func(k document.Kind) bool { return k.Compares })
	if alone {
		data.valve = in.valves[0]
	}
	if data.units == "" {
		data.units = base.Profile.Units.Text
	}
	s, err := a.study(ctx, name, &data)
	if err != nil {
		return nil, err
	}
	a.warnings(s.Station.Warnings)
	base.Study, base.Command = s, "seatward select "+shown(name)
	ids := in.valves
	switch {
	case len(ids) == 0:
		if ids = document.Best(s, 1); len(ids) == 0 {
			return nil, fmt.Errorf("%w: no valve can be used at %s; name one with --valve ID to have its papers all the same", errNoAnswer, s.Station.Name)
		}
	case slices.Contains(ids, allValves):
		ids = nil
		for _, x := range s.Assessments {
			ids = append(ids, x.Item.ID)
		}
	default:
		base.Compared = ids
	}
	return makePapers(ctx, base, kinds, ids, in.formats)
}

// makePapers makes each kind for each valve; a comparison once.
func makePapers(
	ctx context.Context, base document.Request, kinds []document.Kind, ids, formats []string,
) ([]paper, error) {
	trip := slices.ContainsFunc(kinds, func(k document.Kind) bool { return k.Trip })
	base = base.WithCompared(kinds)
	var out []paper
	for i, id := range ids {
		d, err := document.NewDossier(ctx, base, id, trip)
		if pick := (*document.PickError)(nil); errors.As(err, &pick) {
			return nil, err
		}
		if err != nil {
			return nil, fmt.Errorf("%w: %w", errNoAnswer, err)
		}
		for _, k := range kinds {
			if k.Compares && i > 0 {
				continue
			}
			p := paper{doc: d.Make(k), formats: formats, name: d.FileName(k)}
			if len(formats) == 0 {
				p.formats = []string{k.Format}
			}
			out = append(out, p)
		}
	}
	return out, nil
}

// files writes a document in its formats, in memory.
func (a *app) files(p *paper, folder string) ([]file, error) {
	var out []file
	for _, name := range p.formats {
		f, err := render.Named(name)
		if err != nil {
			return nil, err
		}
		base := filepath.Join(folder, p.name)
		var buf bytes.Buffer
		made, err := f.Write(&buf, p.doc, p.name)
		if err != nil {
			return nil, fmt.Errorf("%s: %w", p.name, err)
		}
		out = append(out, file{base + "." + f.Name, buf.Bytes()})
		if len(made.Undrawn) > 0 {
			a.complain(undrawn(base+"."+f.Name, made.Undrawn))
		}
		for _, b := range made.Beside {
			out = append(out, file{filepath.Join(folder, b.Name), b.Data})
		}
	}
	return out, nil
}

// undrawn names the characters of a file that its fonts do not have.
func undrawn(name string, missing []rune) string {
	const most = 10
	var shown []string
	for _, r := range missing[:min(len(missing), most)] {
		shown = append(shown, fmt.Sprintf("%c (%U)", r, r))
	}
	if n := len(missing) - most; n > 0 {
		shown = append(shown, fmt.Sprintf("%d more", n))
	}
	return fmt.Sprintf("warning: the fonts of %s cannot draw %s: a box stands for each; write these words in other letters, or take --format docx", name, strings.Join(shown, ", "))
}

// paperRequest reads profile, logo, wording and clause.
func (a *app) paperRequest(in *paperFlags) (document.Request, error) {
	r := document.Request{Profile: &document.ProfileFile{}, Wording: document.NewWording(), Program: program.Title()}
	var err error
	if r.Rules, err = a.book(in.rules); err != nil {
		return r, err
	}
	if r.Picks, err = picks(in.options); err != nil {
		return r, err
	}
	if in.profile != "" {
		if err := a.readProfile(in.profile, &r); err != nil {
			return r, err
		}
	}
	if in.templates != "" {
		if err := a.readWording(in.templates, r.Wording); err != nil {
			return r, err
		}
	}
	if r.Clause, err = a.readClauses(in.clauses); err != nil {
		return r, err
	}
	over := document.Overrides{
		Paper: in.paper, Date: in.date, Revision: in.revision, Number: in.number, Language: in.language,
	}
	if err := r.Take(r.Profile, over); err != nil {
		return r, fmt.Errorf("--%w", err)
	}
	return r, nil
}

// readClauses reads the files of a specification as one; nil where there is none.
func (a *app) readClauses(names []string) (*clause.Section, error) {
	var out *clause.Section
	for _, name := range names {
		data, err := a.readUpTo(name, clause.MostBytes)
		if err != nil {
			return nil, err
		}
		s, list := clause.Read(shown(name), data)
		if list != nil {
			return nil, list
		}
		if out == nil {
			out = s
			continue
		}
		out.Join(s)
	}
	return out, nil
}

func (a *app) readProfile(name string, r *document.Request) error {
	data, err := a.read(name)
	if err != nil {
		return err
	}
	p, list := document.ParseProfile(shown(name), data)
	if list.Err() != nil {
		return list
	}
	r.Profile = p
	if p.Logo.Text == "" {
		return nil
	}
	logo := p.Logo.Text
	if !filepath.IsAbs(logo) {
		logo = filepath.Join(filepath.Dir(name), logo)
	}
	picture, err := a.readUpTo(logo, document.MostLogoBytes)
	var large diag.List
	if errors.As(err, &large) {
		return diag.List{{
			ID: "logo", Place: p.Logo.Place, Path: "logo", Text: "the logo is too large", Found: logo,
			Expected: fmt.Sprintf("at most %d MB", document.MostLogoBytes>>20), Mend: "save it smaller",
		}}
	}
	if err == nil {
		r.Logo, err = document.ReadLogo(logo, picture)
	}
	if err != nil {
		return diag.List{{
			ID: "logo", Place: p.Logo.Place, Path: "logo", Text: err.Error(),
			Expected: "a PNG or JPEG file beside the profile", Mend: "mend the name or the file, or leave logo out",
		}}
	}
	return nil
}

// readWording reads every wording file of the folder, in the order of their names.
func (a *app) readWording(folder string, w *document.Wording) error {
	if info, err := os.Stat(folder); err != nil {
		return unreadable(folder, err)
	} else if !info.IsDir() {
		return fmt.Errorf("--templates %s: a folder with wording files is expected", folder)
	}
	names, err := filepath.Glob(filepath.Join(folder, "*.yaml"))
	if err != nil || len(names) == 0 {
		return errors.Join(err, fmt.Errorf("--templates %s holds no wording file (*.yaml); seatward write KIND FILE --phrases prints one to begin with", folder))
	}
	var all diag.List
	for _, n := range names {
		data, err := a.read(n)
		if err != nil {
			return err
		}
		all = append(all, w.ParseWording(n, data)...)
	}
	return all.Err()
}
