package docx

import (
	"bytes"
	"fmt"
	"image/png"

	"seatward/internal/document"
	"seatward/internal/render/code"
)

const (
	tallestTwips = 11000 // of a picture, so that it stays on one page with its caption
	codeTwips    = 1800
)

// drawing is a picture in a line of text.
type drawing struct {
	id            int
	png, svg      string // names of the links
	width, height int    // twips
	text          string // for readers that cannot see
}

func (p drawing) xml() string {
	svg := ""
	if p.svg != "" {
		svg = `<a:extLst><a:ext uri="{96DAC541-7B7A-43D3-8B79-37D633B846F1}"><asvg:svgBlip xmlns:asvg="http://schemas.microsoft.com/office/drawing/2016/SVG/main" r:embed="` + p.svg + `"/></a:ext></a:extLst>`
	}
	size := fmt.Sprintf(`cx="%d" cy="%d"`, p.width*emuPerTwip, p.height*emuPerTwip)
	return `<w:r><w:drawing><wp:inline distT="0" distB="0" distL="0" distR="0"><wp:extent ` + size + `/>` +
		fmt.Sprintf(`<wp:docPr id="%d" name="Picture %d" descr="%s"/>`, p.id, p.id, escape(p.text)) +
		`<wp:cNvGraphicFramePr><a:graphicFrameLocks noChangeAspect="1"/></wp:cNvGraphicFramePr>` +
		`<a:graphic><a:graphicData uri="http://schemas.openxmlformats.org/drawingml/2006/picture"><pic:pic>` +
		fmt.Sprintf(`<pic:nvPicPr><pic:cNvPr id="%d" name="Picture %d"/><pic:cNvPicPr/></pic:nvPicPr>`, p.id, p.id) +
		`<pic:blipFill><a:blip r:embed="` + p.png + `">` +
		svg + `</a:blip><a:stretch><a:fillRect/></a:stretch></pic:blipFill>` +
		`<pic:spPr><a:xfrm><a:off x="0" y="0"/><a:ext ` +
		size + `/></a:xfrm><a:prstGeom prst="rect"><a:avLst/></a:prstGeom></pic:spPr>` +
		`</pic:pic></a:graphicData></a:graphic></wp:inline></w:drawing></w:r>`
}

// embed puts a picture file into the package and returns the name of its link.
func (x *writer) embed(data []byte, extension string) string {
	name := fmt.Sprintf("media/picture%d.%s", len(x.media)+1, extension)
	x.media = append(x.media, part{"word/" + name, data})
	return x.relate("image", name)
}

// fitted is the largest size in a room that keeps a picture's proportions.
func fitted(width, height, roomWidth, roomHeight int) (w, h int) {
	if width*roomHeight > height*roomWidth {
		return roomWidth, max(1, roomWidth*height/width)
	}
	return max(1, roomHeight*width/height), roomHeight
}

func (x *writer) figure(f document.Figure) error {
	var raster, vector bytes.Buffer
	drawn := f.Figure.Print()
	if err := drawn.PNG(&raster); err != nil {
		return fmt.Errorf("figure %q: %w", f.Caption, err)
	}
	if err := drawn.SVG(&vector); err != nil {
		return fmt.Errorf("figure %q: %w", f.Caption, err)
	}
	size, err := png.DecodeConfig(bytes.NewReader(raster.Bytes()))
	if err != nil {
		return fmt.Errorf("figure %q: %w", f.Caption, err)
	}
	text := f.Text
	if text == "" {
		text = f.Caption
	}
	x.pictures++
	p := drawing{id: x.pictures, png: x.embed(raster.Bytes(), "png"), svg: x.embed(vector.Bytes(), "svg"), text: text}
	p.width, p.height = fitted(size.Width, size.Height, x.width, tallestTwips)
	x.figures++
	number := field("", `SEQ Figure \* ARABIC`, fmt.Sprint(x.figures))
	x.out.WriteString(paragraph("Picture", "<w:keepNext/>", p.xml()) +
		paragraph("Caption", "", phrase(x.d.Words.Figure, "n", number, "caption", run("", f.Caption))))
	return nil
}

func (x *writer) code(c document.Code) error {
	square, err := code.New(c.Text)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Caption, err)
	}
	data, err := square.PNG(8)
	if err != nil {
		return fmt.Errorf("%s: %w", c.Caption, err)
	}
	x.pictures++
	p := drawing{
		id: x.pictures, png: x.embed(data, "png"), width: codeTwips, height: codeTwips,
		text: "Square code: " + c.Text,
	}
	x.out.WriteString(paragraph("Picture", "<w:keepNext/>", p.xml()) + paragraph("Caption", "<w:keepNext/>",
		run("", c.Caption)) + paragraph("CodeText", "", run("", c.Text)))
	return nil
}
