package document

import (
	"bytes"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
	"net/url"
	"slices"
	"strings"
	"time"

	"seatward/diag"
	"seatward/internal/yamlfile"
)

// ProfileForm names the form of a profile. It changes only when a file that was legal no longer is.
const ProfileForm = "seatward.profile/1"

// ProfileFile is a profile as written: whose papers they are, and for which project.
// Every field is optional; what is missing stands as a blank and is listed.
type ProfileFile struct {
	Company  yamlfile.Word `yaml:"company" doc:"Name that stands in the head of every page"`
	Address  yamlfile.Word `yaml:"address" doc:"Its address"`
	Contact  yamlfile.Word `yaml:"contact" doc:"Telephone or mail"`
	Author   yamlfile.Word `yaml:"prepared_by" doc:"Who prepares the papers"`
	Logo     yamlfile.Word `yaml:"logo" doc:"Picture file, PNG or JPEG, beside the profile"`
	Paper    yamlfile.Word `yaml:"paper" one:"letter|A4" doc:"Paper; letter where left out"`
	Units    yamlfile.Word `yaml:"units" one:"US|SI" doc:"Units; those of the station where left out"`
	Language yamlfile.Word `yaml:"language" doc:"Language of the wording, as a BCP 47 tag; en where left out"`

	Number   yamlfile.Word `yaml:"number" doc:"Number of the document"`
	Revision yamlfile.Word `yaml:"revision" doc:"Its revision"`
	Date     yamlfile.Word `yaml:"date" doc:"Its date, year-month-day"`

	Project    yamlfile.Word `yaml:"project" doc:"Name of the project"`
	ProjectNo  yamlfile.Word `yaml:"project_number" doc:"Its number"`
	Owner      yamlfile.Word `yaml:"owner" doc:"Owner"`
	Engineer   yamlfile.Word `yaml:"engineer" doc:"Engineer who reviews"`
	Contractor yamlfile.Word `yaml:"contractor" doc:"Contractor who submits"`
	Section    yamlfile.Word `yaml:"specification_section" doc:"Section of the specification, with its number"`
	Paragraph  yamlfile.Word `yaml:"paragraph" doc:"Paragraph of the section"`
	Drawing    yamlfile.Word `yaml:"drawing" doc:"Drawing and detail"`
	Tag        yamlfile.Word `yaml:"tag" doc:"Tag of the valve"`
	Quantity   yamlfile.Word `yaml:"quantity" doc:"How many valves"`
	PumpSide   yamlfile.Word `yaml:"isolating_pump_side" doc:"Tag of the isolating valve on the pump side; a blank where left out"`
	HeaderSide yamlfile.Word `yaml:"isolating_header_side" doc:"Tag of the isolating valve on the header side; a blank where left out"`
	Emergency  yamlfile.Word `yaml:"emergency_contact" doc:"Whom the crew calls; a blank where left out"`
	StudyLink  yamlfile.Word `yaml:"study_link" doc:"Address that opens the study, for the square code of the field card: http or https"`
	Delivery   yamlfile.Word `yaml:"delivery_place" doc:"Where they go"`
	Wanted     yamlfile.Word `yaml:"delivery_date" doc:"When they are wanted"`
	Reply      yamlfile.Word `yaml:"reply_date" doc:"Until when a request for quotation is to be answered"`

	Notes []yamlfile.Word `yaml:"notes" most:"50" doc:"Remarks, printed as they stand"`
}

// mostNote bounds a field of a profile, in characters.
const mostNote = 5000

// ParseProfile reads a profile. The list holds every fault.
func ParseProfile(filename string, data []byte) (*ProfileFile, diag.List) {
	f := &ProfileFile{}
	list := yamlfile.Decode(filename, data, f)
	for _, w := range f.words() {
		if n := len([]rune(w.Text)); n > mostNote {
			list.Add(diag.Message{
				ID: "profile-too-long", Place: w.Place, Path: w.Path, Text: "the text is too long",
				Found: fmt.Sprintf("%d characters", n), Expected: fmt.Sprintf("at most %d", mostNote),
				Mend: "shorten it, or attach it as a paper of its own",
			})
		}
	}
	if d := f.Date; d.Text != "" && !isDate(d.Text) {
		list.Add(diag.Message{
			ID: "profile-date", Place: d.Place, Path: d.Path, Text: fmt.Sprintf("%q is not a date", d.Text),
			Expected: "year-month-day, such as 2026-11-25", Mend: "write the date so",
		})
	}
	if l := f.StudyLink; l.Text != "" {
		if err := CheckLink(l.Text); err != nil {
			list.Add(diag.Message{
				ID: "profile-link", Place: l.Place, Path: l.Path, Text: err.Error(),
				Expected: "an http or https address of at most 500 characters", Mend: "copy it from the browser that shows the study",
			})
		}
	}
	list.Sort()
	return f, list
}

// mostLink bounds an address, in characters: a square code of a longer one is hard to read.
const mostLink = 500

// CheckLink says what is wrong with an address that opens a study.
func CheckLink(link string) error {
	u, err := url.Parse(link)
	if err != nil || u.Host == "" || u.Scheme != "http" && u.Scheme != "https" || len(link) > mostLink {
		return fmt.Errorf("%.60q is not an address that opens a study", link)
	}
	return nil
}

func (f *ProfileFile) words() []yamlfile.Word {
	out := []yamlfile.Word{
		f.Company, f.Address, f.Contact, f.Author, f.Logo, f.Number, f.Revision, f.Project, f.ProjectNo, f.Owner,
		f.Engineer, f.Contractor, f.Section, f.Paragraph, f.Drawing, f.Tag, f.Quantity, f.Delivery, f.Wanted,
		f.Reply, f.PumpSide, f.HeaderSide, f.Emergency,
	}
	return append(out, f.Notes...)
}

// isDate is true for year-month-day of a day that the calendar has.
func isDate(s string) bool {
	_, err := time.Parse(time.DateOnly, s)
	return err == nil
}

// Overrides stand in place of what a profile says; what is empty leaves it.
type Overrides struct {
	Paper, Date, Revision, Number, Language string
}

// Take puts a profile on the request, with what stands in place of its words. The error
// begins with the name of the word that is wrong.
func (r *Request) Take(p *ProfileFile, over Overrides) error {
	for _, f := range []struct {
		text string
		into *string
	}{
		{over.Paper, &p.Paper.Text},
		{over.Date, &p.Date.Text},
		{over.Revision, &p.Revision.Text},
		{over.Number, &p.Number.Text},
		{over.Language, &p.Language.Text},
	} {
		if f.text != "" {
			*f.into = f.text
		}
	}
	if d := p.Date.Text; d != "" && !isDate(d) {
		return fmt.Errorf("date %q: year-month-day is expected, such as 2026-11-25", d)
	}
	switch strings.ToLower(p.Paper.Text) {
	case "", "letter":
		r.Paper = Letter
	case "a4":
		r.Paper = A4
	default:
		return fmt.Errorf("paper %q is not a choice; write letter or A4", p.Paper.Text)
	}
	if err := r.speak(p.Language.Text); err != nil {
		return err
	}
	r.Profile = p
	return nil
}

// speak takes the wording that comes with the program in the language, where there is one.
func (r *Request) speak(language string) error {
	base, _, _ := strings.Cut(strings.ToLower(language), "-")
	switch {
	case language == "":
		return nil
	case slices.Contains(Languages(), base):
		return r.Wording.Speak(language)
	case r.Wording.foreign(): // the user's own words
		r.Wording.Language = language
		return nil
	}
	return r.Wording.Speak(language)
}

// The limits of a logo.
const (
	MostLogoBytes  = 4 << 20
	mostLogoPixels = 16_000_000
)

// ReadLogo reads a picture for the head of pages. The error says what is wrong with it.
func ReadLogo(name string, data []byte) (*Picture, error) {
	if len(data) > MostLogoBytes {
		return nil, fmt.Errorf("the logo %s has %d MB; at most %d MB are expected: save it smaller", name,
			len(data)>>20, MostLogoBytes>>20)
	}
	format, known := pictureFormat(data)
	if !known {
		return nil, fmt.Errorf("the logo %s is not a picture that can be read: a PNG or JPEG file is expected", name)
	}
	c, err := format.config(bytes.NewReader(data))
	if err != nil {
		return nil, fmt.Errorf("the logo %s is not a picture that can be read: a PNG or JPEG file is expected", name)
	}
	if c.Width < 1 || c.Height < 1 || c.Width*c.Height > mostLogoPixels {
		return nil, fmt.Errorf("the logo %s has %d x %d pixels; at most 16 million are expected: save it smaller", name,
			c.Width, c.Height)
	}
	if _, err := format.decode(bytes.NewReader(data)); err != nil {
		return nil, fmt.Errorf("the logo %s is damaged (%s): save it anew", name,
			strings.TrimPrefix(err.Error(), format.name+": "))
	}
	return &Picture{Format: format.name, Data: data, Width: c.Width, Height: c.Height}, nil
}

// picture is a format of logos.
type picture struct {
	name, magic string // magic are the bytes that its files begin with
	config      func(io.Reader) (image.Config, error)
	decode      func(io.Reader) (image.Image, error)
}

func pictureFormat(data []byte) (picture, bool) {
	for _, p := range []picture{
		{"png", "\x89PNG\r\n\x1a\n", png.DecodeConfig, png.Decode},
		{"jpeg", "\xff\xd8\xff", jpeg.DecodeConfig, jpeg.Decode},
	} {
		if bytes.HasPrefix(data, []byte(p.magic)) {
			return p, true
		}
	}
	return picture{}, false
}
