package main

import (
	"context"
	"fmt"
	"os"

	"seatward/catalog"
	"seatward/internal/render/text"
	"seatward/rules"
	"seatward/station"
	"seatward/study"
)

func main() {
	b, _ := os.ReadFile(os.Args[2])
	st, list := station.Load(os.Args[2], b)
	if st == nil {
		fmt.Println(list)
		os.Exit(2)
	}
	book, _ := rules.Base()
	cats, _ := catalog.Demo()
	switch os.Args[1] {
	case "select":
		s, err := study.Run(context.Background(), st, study.Options{Catalogs: cats, Rules: book})
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		text.Select(os.Stdout, s, text.Options{})
	case "trip":
		s, err := study.RunTrip(context.Background(), st, study.TripOptions{Catalogs: cats, Rules: book, Valve: os.Args[3], Remedies: true})
		if err != nil {
			fmt.Println(err)
			os.Exit(1)
		}
		text.Trip(os.Stdout, s, text.Options{})
	}
}
