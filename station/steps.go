package station

import "fmt"

// steps lists the parts of a resolution in order: first what the file shows to be
// impossible as it is written, then the station part by part, then what the resolved
// station shows to be impossible or odd.
func (r *resolver) steps() []step {
	pumps := max(len(r.f.Pumps), 1)
	r.st.Pumps = make([]Pump, pumps)
	all := []step{
		{"check levels", nil, nil, r.levelOrder},
		{"check static head", nil, nil, r.staticTwice},
		{"check flows", nil, nil, r.flowOrder},
		{"check duty", nil, nil, r.dutyHead},
		{"check profile", []string{"main.runs", "main.profile", "main.ground", "levels"}, nil, r.profile},
		{"check temperature", []string{"site"}, nil, r.temperatures},
		{"check service", nil, nil, r.service},
		{"check pumps", nil, nil, r.pumpList},
		{"check numbers", []string{"duty", "valve", "pumps", "branch", "main", "levels"}, nil, r.anyNumber},

		{"fluid", []string{"fluid"}, []string{"check temperature", "check service"}, func() { r.fluid(); r.finite() }},
		{"site", []string{"site"}, nil, r.site},
		{
			"valve",
			append([]string{"valve"}, ifFalse(r.f.Valve.Size.Set, "branch.runs", "duty", "pumps")...),
			[]string{"check numbers"},
			r.valve,
		},
		{
			"flows",
			[]string{"duty"},
			append([]string{"check flows", "check duty"}, ifFalse(r.f.Duty.Flow.Set || !r.noCurve(), "valve")...),
			r.flows,
		},
		{
			"levels",
			[]string{"levels", "duty"},
			[]string{"fluid", "check levels", "check static head", "check duty", "check numbers"},
			r.levels,
		},
	}
	branch := step{
		"branch",
		[]string{"branch", "units"},
		append([]string{"fluid"}, ifFalse(sized(r.f.Branch.Runs), "valve")...), r.branch,
	}
	main := step{
		"main",
		[]string{"main", "units"},
		append([]string{"fluid", "check profile"}, ifFalse(sized(r.f.Main.Runs), "valve")...), r.main,
	}
	all = append(all, branch)
	if len(r.f.Main.Runs) > 0 {
		all = append(all, main)
	}
	var each []string
	for i := range pumps {
		name := fmt.Sprintf("pumps[%d]", i)
		each = append(each, name)
		needs := []string{"fluid", "flows", "check pumps"}
		if i >= len(r.f.Pumps) || len(r.f.Pumps[i].Curve) == 0 {
			needs = append(needs, "levels", "branch", "main") // from which the duty head may be estimated
		}
		all = append(all, step{name, []string{name, "duty"}, needs, func() { r.pumpAt(i) }})
	}
	all = append(all, step{"order of pumps", nil, each, r.order})
	if len(r.f.Main.Runs) == 0 {
		main.needs = append(main.needs, "levels", "branch", "order of pumps")
		all = append(all, main)
	}
	all = append(all,
		step{"datum", nil, []string{"fluid", "levels", "main"}, r.datum},
		step{"surge", []string{"surge", "events"}, each, r.surge},
		step{"surge devices", []string{"surge"}, []string{"datum", "surge"}, r.devices},
		step{"operation", []string{"operation"}, nil, r.operation},

		step{"check shut-off", nil, []string{"levels", "order of pumps"}, r.shutOff},
		step{"check duty on the curves", nil, []string{"order of pumps"}, r.offCurve},
		step{"check valve height", nil, []string{"datum", "order of pumps"}, r.valveHeight},
		step{"check rise", nil, []string{"datum", "branch"}, r.rises},
		step{"check climb", nil, []string{"main"}, r.climbs},
		step{"check greatest flow", nil, []string{"flows", "order of pumps"}, r.greatestFlow},
		step{"check service numbers", nil, []string{"fluid", "valve"}, r.serviceNumbers},
		step{"check branch velocity", nil, []string{"order of pumps", "branch"}, r.branchVelocity},
		step{"check main velocity", nil, []string{"order of pumps", "main"}, r.mainVelocity},
		step{"check waves", nil, []string{"branch", "main"}, r.waves},
		step{"check inertia", nil, []string{"order of pumps"}, r.inertias},
		step{"check sizes", nil, []string{"valve", "branch"}, r.sizes},
		step{"check high points", nil, []string{"datum"}, r.highPoints},
		step{"check duty in the system", nil, []string{"levels", "branch", "main", "order of pumps"}, r.dutyInSystem},
	)
	return append(all, step{"finite", nil, names(all), func() { r.depth(); r.finite() }})
}

func names(steps []step) []string {
	var out []string
	for _, s := range steps {
		out = append(out, s.name)
	}
	return out
}

// sized is true when every run of the line says its size.
func sized(runs []RunFile) bool {
	for i := range runs {
		if !runs[i].Size.Set {
			return false
		}
	}
	return len(runs) > 0
}

// ifFalse are the names where the condition does not hold, else none.
func ifFalse(condition bool, names ...string) []string {
	if condition {
		return nil
	}
	return names
}
