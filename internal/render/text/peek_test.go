package text

import (
	"context"
	"os"
	"testing"

	"seatward/catalog"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

func TestPeek(t *testing.T) {
	name := os.Getenv("PEEK")
	data, err := os.ReadFile("../../../examples/" + name + ".station.yaml")
	if err != nil {
		t.Fatal(err)
	}
	st, list := station.Load(name, data)
	if list.Err() != nil {
		t.Fatal(list)
	}
	c, l := catalog.Demo()
	if l.Err() != nil {
		t.Fatal(l)
	}
	b, l := rules.Base()
	if l.Err() != nil {
		t.Fatal(l)
	}
	s, err := study.Run(context.Background(), st, study.Options{Catalogs: c, Rules: b})
	if err != nil {
		t.Fatal(err)
	}
	if err := Select(os.Stdout, s, Options{Units: st.Units}); err != nil {
		t.Fatal(err)
	}
}
