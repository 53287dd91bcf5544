package station

import "seatward/internal/yamlfile"

// Form names the form of a station file. It changes only when a file that was legal no longer is.
const Form = "seatward.station/1"

// File is a station file as written: the one format of all three depths. Every
// key is optional but the few marked as needed; what is missing is estimated by
// Load and listed as assumed.
type File struct {
	Station   yamlfile.Word   `yaml:"station" need:"true" doc:"Name of the station"`
	Place     yamlfile.Word   `yaml:"place" doc:"Town or site"`
	Units     yamlfile.Word   `yaml:"units" one:"US|SI" bare:"true" doc:"Units of the answer, and of numbers written without one; by default those of the file"`
	Fluid     FluidFile       `yaml:"fluid" doc:"What is pumped"`
	Site      SiteFile        `yaml:"site" doc:"Where it stands"`
	Duty      DutyFile        `yaml:"duty" doc:"Duty point, when no pump curve is known, and the least and greatest flow through one valve"`
	Valve     ValveFile       `yaml:"valve" doc:"The place where the check valve goes"`
	Pumps     []PumpFile      `yaml:"pumps" most:"24" doc:"The pumps, equal ones in one entry with a count"`
	Levels    LevelsFile      `yaml:"levels" doc:"Wet-well levels and outlet, as elevations, or the static head itself"`
	Branch    BranchFile      `yaml:"branch" doc:"Pipe of one pump from its discharge flange to the header"`
	Main      MainFile        `yaml:"main" doc:"Force main from the header to the outlet"`
	Surge     SurgeFile       `yaml:"surge" doc:"Surge equipment and how pumps are stopped"`
	Operation OperationFile   `yaml:"operation" doc:"Hours, tariff and money"`
	Events    []EventFile     `yaml:"events" most:"200" doc:"Stops and starts to look at"`
	RulePacks []yamlfile.Word `yaml:"rule_packs" most:"50" doc:"Rules of places and owners that bind here, by ID as seatward rules --packs lists them"`
	Notes     []yamlfile.Word `yaml:"notes" most:"200" doc:"Free remarks, kept and printed"`
}

// FluidFile says what is pumped.
type FluidFile struct {
	Kind            yamlfile.Word `yaml:"kind" one:"raw sewage|sludge|effluent|raw water|drinking water" said:"liquid" doc:"What is pumped"`
	Temperature     yamlfile.Q    `yaml:"temperature" kind:"temperature" min:"273.15" max:"373.15" doc:"Temperature, liquid water only"`
	MaxTemperature  yamlfile.Q    `yaml:"greatest_temperature" kind:"temperature" min:"273.15" max:"373.15" doc:"Greatest temperature that the elastomer meets"`
	Density         yamlfile.Q    `yaml:"density" kind:"density" min:"900" max:"1300" doc:"Density; water at the temperature if not written"`
	FrictionFactor  yamlfile.Num  `yaml:"friction_multiplier" min:"1" max:"5" doc:"Friction of the liquid against water, for sludge"`
	Solids          yamlfile.Q    `yaml:"solids" kind:"diameter" min:"0" max:"0.5" doc:"Largest sphere that must pass"`
	Rags            yamlfile.Word `yaml:"rags" one:"none|light|heavy" said:"rags" doc:"Fibers and rags"`
	Grit            yamlfile.Word `yaml:"grit" one:"none|some|heavy" said:"grit" doc:"Sand and grit"`
	Oil             yamlfile.Word `yaml:"oil" one:"none|trace|heavy" said:"oil" doc:"Mineral oil, fuel or grease"`
	HydrogenSulfide yamlfile.Word `yaml:"hydrogen_sulfide" one:"none|some|high" doc:"Hydrogen sulfide in the liquid or the air above it"`
	FreeGas         yamlfile.Q    `yaml:"free_gas" kind:"fraction" min:"0" max:"0.1" doc:"Free gas by volume"`
}

// SiteFile says where the station stands.
type SiteFile struct {
	Elevation yamlfile.Q `yaml:"elevation" kind:"length" min:"-420" max:"6000" doc:"Elevation above sea level, for the air pressure"`
}

// DutyFile is the duty of one pump.
type DutyFile struct {
	Flow           yamlfile.Q   `yaml:"flow" kind:"flow" min:">0" doc:"Flow of one pump running alone"`
	Head           yamlfile.Q   `yaml:"head" kind:"head" min:">0" doc:"Pump head at that flow"`
	StaticHead     yamlfile.Q   `yaml:"static_head" kind:"head" min:"0" doc:"Static head, level to level"`
	LeastFlow      yamlfile.Q   `yaml:"least_flow" kind:"flow" min:">0" doc:"Least flow through one valve"`
	GreatestFlow   yamlfile.Q   `yaml:"greatest_flow" kind:"flow" min:">0" doc:"Greatest flow through one valve"`
	ShutoffHead    yamlfile.Q   `yaml:"shutoff_head" kind:"head" min:">0" doc:"Pump head at no flow"`
	PumpsInService yamlfile.Num `yaml:"pumps_in_service" min:"1" max:"12" whole:"true" doc:"Pumps that run together on one header"`
}

// ValveFile is the place where the valve goes, and the valve that is there now.
type ValveFile struct {
	Size           yamlfile.Size `yaml:"size" doc:"Nominal size of the pipe at the valve"`
	Position       yamlfile.Word `yaml:"position" one:"horizontal|flow up|flow down" said:"position" doc:"Position of the pipe and direction of normal flow"`
	StraightBefore yamlfile.Q    `yaml:"straight_before" kind:"length" min:"0" doc:"Straight pipe before the valve"`
	StraightAfter  yamlfile.Q    `yaml:"straight_after" kind:"length" min:"0" doc:"Straight pipe after the valve"`
	Clearance      yamlfile.Q    `yaml:"clearance" kind:"length" min:"0" doc:"Free height above the valve's axis for the cover and the lift"`
	Place          yamlfile.Word `yaml:"place" one:"dry pit|valve vault|above ground|wet well|pump house" said:"place" doc:"Where the valve stands"`
	LayingLength   yamlfile.Q    `yaml:"laying_length" kind:"length" min:">0" doc:"Face-to-face length that is free or of the valve there now"`
	Existing       yamlfile.Word `yaml:"existing" doc:"Type of the valve there now, in your words"`
	Rating         yamlfile.Q    `yaml:"rating" kind:"pressure" min:">0" doc:"Pressure rating called for"`
}

// PumpFile is one pump or several equal ones.
type PumpFile struct {
	yamlfile.At
	Name            yamlfile.Word    `yaml:"name" doc:"Name or tag"`
	Count           yamlfile.Num     `yaml:"count" min:"1" max:"12" whole:"true" doc:"Number of equal pumps, standby included"`
	Standby         yamlfile.Num     `yaml:"standby" min:"0" max:"11" whole:"true" doc:"How many of them never run together with the rest"`
	Curve           []yamlfile.Tuple `yaml:"curve" kind:"flow,head" min:"0" doc:"Points [flow, head] of the pump curve at full speed, flow rising"`
	Efficiency      []yamlfile.Tuple `yaml:"efficiency" kind:"flow,fraction" min:"0" doc:"Points [flow, efficiency] of the pump"`
	Power           []yamlfile.Tuple `yaml:"power" kind:"flow,power" min:"0" doc:"Points [flow, shaft power]"`
	Speed           yamlfile.Q       `yaml:"speed" kind:"rotational speed" min:">0" doc:"Full speed"`
	LeastSpeed      yamlfile.Q       `yaml:"least_speed" kind:"rotational speed" min:">0" doc:"Least speed of a variable-speed pump"`
	MotorPower      yamlfile.Q       `yaml:"motor_power" kind:"power" min:">0" doc:"Motor rating"`
	MotorEfficiency yamlfile.Q       `yaml:"motor_efficiency" kind:"fraction" min:">0" max:"1" doc:"Efficiency of motor and drive"`
	Inertia         yamlfile.Q       `yaml:"inertia" kind:"inertia" min:">0" doc:"Moment of inertia of pump, motor and water"`
	Submersible     yamlfile.Word    `yaml:"submersible" one:"yes|no" doc:"Submersible pump"`
}

// LevelsFile holds the levels that make the static head.
type LevelsFile struct {
	WetWellHigh     yamlfile.Q `yaml:"wet_well_high" kind:"length" doc:"Elevation of the highest level in the wet well, normally pump on"`
	WetWellLow      yamlfile.Q `yaml:"wet_well_low" kind:"length" doc:"Elevation of the lowest level, normally pump off"`
	Outlet          yamlfile.Q `yaml:"outlet" kind:"length" doc:"Elevation of the water at the outlet, or of the outlet's crown"`
	ValveAxis       yamlfile.Q `yaml:"valve" kind:"length" doc:"Elevation of the check valve"`
	OutletPressure  yamlfile.Q `yaml:"outlet_pressure" kind:"pressure" doc:"Pressure that the main discharges against, for a booster"`
	SuctionPressure yamlfile.Q `yaml:"suction_pressure" kind:"pressure" doc:"Pressure at the pump's suction, for a booster"`
}

// BranchFile is the pipe of one pump.
type BranchFile struct {
	Runs []RunFile `yaml:"runs" most:"500" doc:"Pipe runs in the direction of flow"`
}

// MainFile is the force main, with where it lies.
type MainFile struct {
	Runs    []RunFile        `yaml:"runs" most:"500" doc:"Pipe runs in the direction of flow"`
	Profile []yamlfile.Tuple `yaml:"profile" kind:"length,length" doc:"Points [chainage, elevation] of the pipe axis"`
	Ground  []yamlfile.Tuple `yaml:"ground" kind:"length,length" doc:"Points [chainage, elevation] of the ground over the main; drawings show it, nothing is computed from it"`
}

// RunFile is one run of equal pipe.
type RunFile struct {
	yamlfile.At
	Material      yamlfile.Word   `yaml:"material" doc:"Pipe material: ductile iron, PVC, steel, HDPE, ..."`
	Class         yamlfile.Word   `yaml:"class" doc:"Class, DR or schedule: PC350, DR18, STD, K9, DR11"`
	Size          yamlfile.Size   `yaml:"size" doc:"Nominal size"`
	InnerDiameter yamlfile.Q      `yaml:"inner_diameter" kind:"diameter" min:">0" max:"5" doc:"True inner diameter, if known"`
	Wall          yamlfile.Q      `yaml:"wall" kind:"diameter" min:">0" max:"0.3" doc:"Wall thickness, if known"`
	Lining        yamlfile.Word   `yaml:"lining" one:"none|cement" doc:"Cement-mortar lining"`
	Length        yamlfile.Q      `yaml:"length" kind:"length" min:">0" max:"500000" doc:"Length"`
	Roughness     yamlfile.Q      `yaml:"roughness" kind:"roughness" min:"0" max:"0.02" doc:"Absolute roughness"`
	HazenWilliams yamlfile.Num    `yaml:"hazen_williams" min:"30" max:"165" doc:"Hazen-Williams C, to use that formula instead of Darcy-Weisbach"`
	WaveSpeed     yamlfile.Q      `yaml:"wave_speed" kind:"velocity" min:"50" max:"1500" doc:"Pressure wave speed, if known"`
	Rating        yamlfile.Q      `yaml:"rating" kind:"pressure" min:">0" doc:"Pressure rating of the pipe"`
	Fittings      []yamlfile.Pair `yaml:"fittings" doc:"Fittings by name with their number, such as 90 elbow: 2"`
	LossK         yamlfile.Num    `yaml:"loss_coefficient" min:"0" doc:"Further loss coefficient on the run's velocity head"`
}

// SurgeFile says what holds the pressure near the pumps and how they stop.
type SurgeFile struct {
	AirVessel    yamlfile.Word `yaml:"air_vessel" one:"none|at the station" doc:"Air vessel near the pumps whose size is not known; one of known size stands under devices"`
	CommonHeader yamlfile.Word `yaml:"common_header" one:"yes|no" doc:"Several pumps on one header; yes if more than one pump"`
	Stop         yamlfile.Word `yaml:"normal_stop" one:"direct|soft stop|speed ramp" said:"stop" doc:"How the pumps are stopped in normal operation"`
	RampTime     yamlfile.Q    `yaml:"ramp_time" kind:"time" min:">0" doc:"Length of the ramp"`
	Devices      []DeviceFile  `yaml:"devices" doc:"Devices on the main that limit surge"`
}

// OperationFile holds what running costs depend on.
type OperationFile struct {
	HoursPerYear  yamlfile.Q   `yaml:"running_time_per_year" kind:"time" unit:"h" min:"0" max:"31622400" doc:"Running time of one pump per year, such as 2200 h"`
	StartsPerHour yamlfile.Num `yaml:"starts_per_hour" min:"0" max:"60" doc:"Starts of one pump in an hour"`
	Tariff        yamlfile.Q   `yaml:"tariff" kind:"tariff" min:"0" doc:"Price of electricity, such as 0.14 /kWh, in your currency"`
	Interest      yamlfile.Q   `yaml:"interest" kind:"fraction" min:"0" max:"0.5" doc:"Interest rate of the life-cycle cost"`
	Years         yamlfile.Num `yaml:"years" min:"1" max:"100" doc:"Years of the life-cycle cost"`
}

// EventFile is a stop or start to look at.
type EventFile struct {
	Name yamlfile.Word `yaml:"name" doc:"Your name for the event"`
	Kind yamlfile.Word `yaml:"kind" need:"true" one:"power failure|one pump trips|normal stop|start|schedule" doc:"What happens"`
	Time yamlfile.Q    `yaml:"ramp_time" kind:"time" min:">0" doc:"Length of the ramp of a normal stop"`

	Steps []EventStepFile `yaml:"steps" most:"200" doc:"What a schedule does to which pump, and when"`
}

// EventStepFile is one action of a schedule.
type EventStepFile struct {
	yamlfile.At
	When yamlfile.Q    `yaml:"at" kind:"time" min:"0" need:"true" doc:"Time from the beginning of the event"`
	Pump yamlfile.Num  `yaml:"pump" min:"1" whole:"true" need:"true" doc:"Number of the pump, counted over all pumps in service in the order of the file"`
	Does yamlfile.Word `yaml:"does" need:"true" one:"trips|stops|starts" doc:"Power failure, stopped by the ramp, or started"`
	Time yamlfile.Q    `yaml:"ramp_time" kind:"time" min:">0" doc:"Length of the ramp of a stop or start"`
}
