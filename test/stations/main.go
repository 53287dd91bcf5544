// Command stations asks the program about many stations, for make soak and make survey.
package main

import (
	"context"
	"flag"
	"fmt"
	"os"
	"time"

	"seatward/internal/generate"
	"seatward/internal/soak"
)

func main() {
	passed, err := run(os.Args[1:])
	switch {
	case err != nil:
		fmt.Fprintln(os.Stderr, err)
		os.Exit(2)
	case !passed:
		os.Exit(1)
	}
}

// run does what is asked for: soak, work (the other process of a soak), show or survey.
func run(args []string) (bool, error) {
	if len(args) == 0 {
		return false, fmt.Errorf("say soak, survey or show")
	}
	f := flag.NewFlagSet(args[0], flag.ContinueOnError)
	var opt soak.Options
	f.Uint64Var(&opt.Seed, "seed", 1, "seed of the first station")
	f.IntVar(&opt.Stations, "stations", 0, "number of stations; 0 for as many as the time allows")
	f.BoolVar(&opt.Kept, "kept", true, "begin with the stations that once broke the answer")
	f.IntVar(&opt.Families, "families", 4,
		"families of the catalog that are asked about at a station, other ones at each")
	f.BoolVar(&opt.Pairs, "pairs", false, "hold each station against stations that must have its answer")
	f.DurationVar(&opt.Limit, "limit", 20*time.Second, "a station that takes longer hangs")
	minutes := f.Float64("minutes", 0, "how long at most; 0 for no limit")
	if err := f.Parse(args[1:]); err != nil {
		return false, err
	}
	opt.For = time.Duration(*minutes * float64(time.Minute))
	if opt.Stations == 0 && opt.For == 0 {
		opt.For = 2 * time.Minute
	}
	switch args[0] {
	case "soak":
		self, err := os.Executable()
		if err != nil {
			return false, err
		}
		return soak.Run(opt, []string{
			self, "work", fmt.Sprintf("-families=%d", opt.Families),
			fmt.Sprintf("-pairs=%t", opt.Pairs), "-limit", opt.Limit.String(),
		}, os.Stdout)
	case "work":
		return true, soak.Work(os.Stdin, os.Stdout, opt)
	case "survey":
		return true, soak.Survey(context.Background(), os.Stdout)
	case "show":
		fmt.Print(generate.Text(opt.Seed))
		return true, nil
	}
	return false, fmt.Errorf("%q is not a choice: soak, survey or show", args[0])
}
