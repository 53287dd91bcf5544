package diagnosis

import "seatward/internal/yamlfile"

// File is a file of signs, causes and tests as written.
type File struct {
	Signs  []SignFile  `yaml:"signs" need:"true" doc:"What may be seen or heard"`
	Causes []CauseFile `yaml:"causes" need:"true" doc:"What may cause it"`
	Tests  []TestFile  `yaml:"tests" need:"true" doc:"Tests that tell causes apart"`
}

// SignFile is one thing that may be seen or heard.
type SignFile struct {
	yamlfile.At
	ID    yamlfile.Word   `yaml:"id" need:"true" doc:"Stable name"`
	Group yamlfile.Word   `yaml:"group" one:"seen|when|since" need:"true" doc:"Which question it answers"`
	Text  yamlfile.Word   `yaml:"text" need:"true" doc:"In plain words"`
	Also  []yamlfile.Word `yaml:"also" doc:"Other words for it"`
}

// CauseFile is one cause.
type CauseFile struct {
	yamlfile.At
	ID      yamlfile.Word  `yaml:"id" need:"true" doc:"Stable name"`
	Title   yamlfile.Word  `yaml:"title" need:"true" doc:"In a few words"`
	Text    yamlfile.Word  `yaml:"text" need:"true" doc:"What happens, in a sentence"`
	Source  yamlfile.Word  `yaml:"source" need:"true" doc:"Where it comes from"`
	Status  yamlfile.Word  `yaml:"status" need:"true" one:"seen|secondary|computed|from memory|common practice, no source" doc:"How sure it is"`
	Signs   []EvidenceFile `yaml:"signs" doc:"Signs that speak for or against it"`
	Numbers []NumberFile   `yaml:"numbers" doc:"Numbers of the station that speak for or against it"`
}

// EvidenceFile is what a sign says of a cause.
type EvidenceFile struct {
	yamlfile.At
	Sign   yamlfile.Word `yaml:"sign" need:"true" doc:"The sign, by its id"`
	Says   yamlfile.Word `yaml:"says" need:"true" one:"for|against" doc:"Which way it speaks"`
	Weight yamlfile.Word `yaml:"weight" need:"true" one:"strong|some" doc:"How much; a judgement"`
	Why    yamlfile.Word `yaml:"why" need:"true" doc:"Why, in half a sentence"`
}

// NumberFile is what a number of the station says of a cause.
type NumberFile struct {
	yamlfile.At
	When   yamlfile.Word `yaml:"when" need:"true" doc:"Condition on the station's numbers, in CEL"`
	Says   yamlfile.Word `yaml:"says" need:"true" one:"for|against|expect" doc:"Which way it speaks, or what it would look like"`
	Weight yamlfile.Word `yaml:"weight" one:"strong|some" doc:"How much; a judgement"`
	Text   yamlfile.Word `yaml:"text" need:"true" doc:"What is said; {name} stands for the number"`
}

// TestFile is one test.
type TestFile struct {
	yamlfile.At
	ID       yamlfile.Word   `yaml:"id" need:"true" doc:"Stable name"`
	Title    yamlfile.Word   `yaml:"title" need:"true" doc:"In a few words"`
	Safety   yamlfile.Word   `yaml:"safety" need:"true" one:"no entry|control panel|gauge fitted|lock-out|opened up" doc:"What it takes"`
	Steps    yamlfile.Word   `yaml:"steps" need:"true" doc:"How it is done"`
	Readings []ReadingFile   `yaml:"readings" need:"true" doc:"What may be found"`
	Expects  []ExpectingFile `yaml:"expects" need:"true" doc:"What each cause would show"`
}

// ReadingFile is one thing that a test may show.
type ReadingFile struct {
	yamlfile.At
	ID   yamlfile.Word `yaml:"id" need:"true" doc:"Stable name"`
	Text yamlfile.Word `yaml:"text" need:"true" doc:"In plain words"`
}

// ExpectingFile is what a cause would show in a test.
type ExpectingFile struct {
	yamlfile.At
	Cause   yamlfile.Word `yaml:"cause" need:"true" doc:"The cause, by its id"`
	Reading yamlfile.Word `yaml:"reading" need:"true" doc:"The reading, by its id"`
	Text    yamlfile.Word `yaml:"text" doc:"How much; {name} stands for a number of the station"`
	Decides yamlfile.Word `yaml:"decides" one:"yes|no" doc:"Another reading than this rules the cause out"`
}
