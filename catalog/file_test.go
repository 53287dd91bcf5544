package catalog

import (
	"bytes"
	"encoding/json"
	"fmt"
	"io/fs"
	"strings"
	"testing"

	"github.com/santhosh-tekuri/jsonschema/v6"
	"go.yaml.in/yaml/v4"

	"seatward/internal/yamlfile"
)

// schema compiles the JSON Schema that is made from the types of this package.
func schema(t *testing.T) *jsonschema.Schema {
	t.Helper()
	text, err := yamlfile.Schema(File{}, "Seatward catalog file, form "+Form)
	if err != nil {
		t.Fatal(err)
	}
	doc, err := jsonschema.UnmarshalJSON(bytes.NewReader(text))
	if err != nil {
		t.Fatal(err)
	}
	c := jsonschema.NewCompiler()
	if err := c.AddResource("catalog.json", doc); err != nil {
		t.Fatal(err)
	}
	s, err := c.Compile("catalog.json")
	if err != nil {
		t.Fatal(err)
	}
	return s
}

// instance turns YAML into what the validator reads.
func instance(t *testing.T, text []byte) any {
	t.Helper()
	var v any
	if err := yaml.Unmarshal(text, &v); err != nil {
		t.Fatal(err)
	}
	asJSON, err := json.Marshal(v)
	if err != nil {
		t.Fatal(err)
	}
	out, err := jsonschema.UnmarshalJSON(bytes.NewReader(asJSON))
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// TestSchema: the schema that editors use takes what the reader takes, and refuses a
// mistyped key, a word that is no choice and a missing key.
func TestSchema(t *testing.T) {
	s := schema(t)
	names, err := fs.Glob(demoFiles, "demo/*.yaml")
	if err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		text, err := fs.ReadFile(demoFiles, name)
		if err != nil {
			t.Fatal(err)
		}
		if err := s.Validate(instance(t, text)); err != nil {
			t.Errorf("%s: %v", name, err)
		}
	}
	text := good(t)
	if err := s.Validate(instance(t, []byte(text))); err != nil {
		t.Error(err)
	}
	for old, now := range map[string]string{
		"        price: 900": "        prize: 900", "services: [raw water]": "services: [raw watter]",
		"maker: Test Works\n": "", "bore: 150 mm": "bore: [150 mm]",
	} {
		if err := s.Validate(instance(t, []byte(strings.Replace(text, old, now, 1)))); err == nil {
			t.Errorf("the schema takes %q for %q", now, old)
		}
	}
}

// TestVariantsOverrideSizesOverrideTheFamily: the nearest number counts.
func TestVariantsOverrideSizesOverrideTheFamily(t *testing.T) {
	text := good(t)
	text = strings.Replace(text,
		"    variants:\n      - {id: sinking, title: sinking ball, positions: [flow up], mechanics: {ball_density: 1.5 SG}}",
		"    mechanics: {ball_density: 1.1 SG, body_loss: 0.7, contraction: 0.7}\n    variants:\n      - {id: sinking, title: sinking ball, positions: [flow up], mechanics: {ball_density: 1.5 SG}}", 1)
	text = strings.Replace(text, "stroke: 120 mm}", "stroke: 120 mm, ball_density: 1.3 SG, body_loss: 0.75}", 1)
	it := items(t, text)["ball/6in/sinking"]
	for key, want := range map[string]float64{"ball_density": 1.5, "body_loss": 0.75, "contraction": 0.7} {
		got := it.Params[key].SI
		if key == "ball_density" {
			got /= 999
		}
		near(t, key, got, want, 2e-3)
	}
}

// TestRecords: every datum says that it comes from the catalog, and what follows from
// others says from which.
func TestRecords(t *testing.T) {
	all := items(t, good(t))
	swing, ball := all["hinged/6in"], all["ball/6in/floating"]
	if o, s := swing.Mass.Origin.String(), swing.Mass.Source; o != "catalog" ||
		!strings.Contains(s, "Test Works 1, Swing check") {
		t.Errorf("mass: %s of %s", o, s)
	}
	loss := swing.Params["full_open_loss"]
	if loss.Origin.String() != "computed" || len(loss.Inputs) != 2 || loss.Inputs[0].Origin.String() != "catalog" {
		t.Errorf("loss: %s from %v", loss.Origin, loss.Inputs)
	}
	// K = 890 d⁴/Cv² (Technical Paper 410, d in inches): 890·6⁴/1074².
	near(t, "loss of Cv 1074 in 6 in", loss.SI, 890.0*1296/(1074*1074), 1e-3)
	// A ball of 190 mm of specific gravity 0.72: 0.72·999·π·0.19³/6 = 2.58 kg.
	near(t, "mass of the floating ball", ball.ElementMass.SI, 2.58, 5e-3)
	if f := swing.Family; f.ShellTest.SI != 1.5 || f.ShellTest.Origin.String() != "assumed" || f.SeatTest.SI != 1 {
		t.Errorf("test factors %v, %v: want 1.5 and 1.0, assumed (common practice, no source)", f.ShellTest, f.SeatTest)
	}
}

// TestLossGivesCoefficient: a catalog that gives the loss coefficient gets the flow
// coefficient from it.
func TestLossGivesCoefficient(t *testing.T) {
	text := strings.Replace(good(t), "        flow_coefficient: 1074 Cv\n", "", 1)
	text = strings.Replace(text, "disc_mass: 3.79 kg,", "disc_mass: 3.79 kg, full_open_loss: 1.0,", 1)
	it := items(t, text)["hinged/6in"]
	// Cv = 29.8 d²/√K (d in inches), times 0.865.
	near(t, "Kv", it.FlowCoefficient.SI, 29.8*36*0.865, 5e-3)
	if it.FlowCoefficient.Origin.String() != "computed" {
		t.Errorf("origin %s", it.FlowCoefficient.Origin)
	}
}

// TestHostileFiles: what is too large, too deep or no text at all is refused at once.
func TestHostileFiles(t *testing.T) {
	for name, text := range map[string]string{
		"empty": "", "ten megabytes": strings.Repeat("a: b\n", 2<<20), "deep": strings.Repeat("[", 10000),
		"binary":        "\x00\xff\xfe",
		"many families": "families: [" + strings.Repeat("{}, ", 2000) + "]",
	} {
		if list := faults(text); list.Err() == nil {
			t.Errorf("%s: no fault", name)
		} else if len(fmt.Sprint(list[0])) > 2000 {
			t.Errorf("%s: the message is too long", name)
		}
	}
}
