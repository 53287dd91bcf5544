package rules

import (
	"seatward/diag"
	"seatward/internal/yamlfile"
)

// Form names the form of a rules file. It changes only when a file that was legal no longer is.
const Form = "seatward.rules-file/1"

// File is a rules file as written.
type File struct {
	Limits     []LimitFile     `yaml:"limits" doc:"Limits by which is judged"`
	Elastomers []ElastomerFile `yaml:"elastomers" doc:"What elastomers bear"`
	Cautions   []CautionFile   `yaml:"cautions" doc:"Cautions that go with an answer"`
	Materials  []AdviceFile    `yaml:"materials" doc:"Which materials suit which liquid"`
	Packs      []PackFile      `yaml:"packs" doc:"Rules of places, owners and bodies that publish guides"`
}

// LimitFile is one limit. A file that replaces one need only say what is new.
type LimitFile struct {
	yamlfile.At
	ID       yamlfile.Word `yaml:"id" need:"true" doc:"Stable name, as seatward rules lists it"`
	Title    yamlfile.Word `yaml:"title" doc:"What is limited; that of the limit which is replaced, if not written"`
	Kind     yamlfile.Word `yaml:"kind" doc:"What the number measures: velocity, head, mass, ...; that of the limit which is replaced, if not written"`
	Value    yamlfile.Word `yaml:"value" need:"true" doc:"The limit with its unit"`
	Severity yamlfile.Word `yaml:"severity" one:"note|condition|rejects" doc:"What breaking it does to the verdict; that of the limit which is replaced, if not written"`
	NotAbove yamlfile.Word `yaml:"not_above" doc:"Another limit that this one must not exceed"`
	Source   yamlfile.Word `yaml:"source" need:"true" doc:"Where it comes from: a key of the bibliography or a full citation"`
	Edition  yamlfile.Word `yaml:"edition" doc:"Edition or date read"`
	Status   yamlfile.Word `yaml:"status" one:"seen|from memory|common practice, no source|choice of this program|owner's rule" doc:"How sure the number is; owner's rule, if not written"`
	Note     yamlfile.Word `yaml:"note" doc:"A remark"`
}

// ElastomerFile says what one elastomer bears.
type ElastomerFile struct {
	Name       yamlfile.Word `yaml:"name" need:"true" doc:"Name as catalogs have it"`
	Most       yamlfile.Q    `yaml:"greatest_temperature" kind:"temperature" min:"273.15" need:"true" doc:"Greatest temperature in water"`
	Oil        yamlfile.Word `yaml:"oil" one:"none|trace|heavy" need:"true" doc:"Greatest oil load"`
	Grit       yamlfile.Word `yaml:"grit" one:"none|some|heavy" need:"true" doc:"Greatest grit load"`
	Chloramine yamlfile.Word `yaml:"chloramine" one:"bears|suffers" doc:"How it stands chloramine in drinking water; bears, if not written"`
	Source     yamlfile.Word `yaml:"source" need:"true" doc:"Where this comes from"`
	Status     yamlfile.Word `yaml:"status" one:"seen|from memory|common practice, no source|choice of this program|owner's rule" doc:"How sure it is; owner's rule, if not written"`
	Note       yamlfile.Word `yaml:"note" doc:"A remark"`
}

// CautionFile is one caution.
type CautionFile struct {
	ID     yamlfile.Word   `yaml:"id" need:"true" doc:"Stable name"`
	When   []yamlfile.Word `yaml:"when" one:"always|sewage|drinking water|vault|heavy|surge" need:"true" doc:"When it goes with an answer"`
	Text   yamlfile.Word   `yaml:"text" need:"true" doc:"What can hurt, and what to do"`
	Defers yamlfile.Word   `yaml:"defers" need:"true" doc:"A sentence that defers to the maker's instructions, local rules or a licensed engineer"`
}

// AdviceFile is what is said of one material for one part.
type AdviceFile struct {
	ID       yamlfile.Word `yaml:"id" need:"true" doc:"Stable name"`
	Part     yamlfile.Word `yaml:"part" one:"body|coating|ball skin|elastomer|bolting|disc and seat" need:"true" doc:"Part of the valve"`
	Material yamlfile.Word `yaml:"material" need:"true" doc:"Material"`
	Says     yamlfile.Word `yaml:"says" one:"use|must not|needs" need:"true" doc:"Use it, it must not be used, or what it needs"`
	When     yamlfile.Word `yaml:"when" doc:"Condition in CEL on service, temperature (deg C), oil and grit; always where left out"`
	Text     yamlfile.Word `yaml:"text" need:"true" doc:"Why, in one sentence"`
	Source   yamlfile.Word `yaml:"source" need:"true" doc:"Where this comes from"`
	Status   yamlfile.Word `yaml:"status" one:"seen|from memory|common practice, no source|choice of this program|owner's rule" doc:"How sure it is; owner's rule, if not written"`
}

// PackFile is the rules of a place or an owner.
type PackFile struct {
	ID       yamlfile.Word  `yaml:"id" need:"true" doc:"Short name, as rule_packs of a station file has it"`
	Title    yamlfile.Word  `yaml:"title" need:"true" doc:"Place or owner, and what the rules are for"`
	Citation yamlfile.Word  `yaml:"citation" need:"true" doc:"Full citation of the text"`
	Edition  yamlfile.Word  `yaml:"edition" doc:"Edition"`
	Read     yamlfile.Word  `yaml:"read" doc:"Day on which the text was read, year-month-day"`
	Rules    []PackRuleFile `yaml:"rules" need:"true" doc:"Its rules"`
}

// PackRuleFile is one rule.
type PackRuleFile struct {
	ID       yamlfile.Word `yaml:"id" need:"true" doc:"Short name"`
	Topic    yamlfile.Word `yaml:"topic" need:"true" doc:"What it is about; rules of one topic are set side by side"`
	Clause   yamlfile.Word `yaml:"clause" doc:"Section or paragraph"`
	When     yamlfile.Word `yaml:"when" doc:"Condition in CEL under which it applies; always where left out"`
	Require  yamlfile.Word `yaml:"require" doc:"Condition in CEL that must hold; where left out the rule is listed as a point that was not checked"`
	Text     yamlfile.Word `yaml:"text" need:"true" doc:"Summary of what it asks (not quoted)"`
	Kind     yamlfile.Word `yaml:"kind" doc:"What its number measures: velocity, diameter, number, ..."`
	Value    yamlfile.Word `yaml:"value" doc:"Its number, with a unit"`
	Bound    yamlfile.Word `yaml:"bound" one:"least|most" doc:"Whether the number is the least or the most"`
	Severity yamlfile.Word `yaml:"severity" one:"note|condition|rejects" doc:"What breaking it does to the verdict; condition, if not written"`
	Status   yamlfile.Word `yaml:"status" one:"seen|from memory|common practice, no source|choice of this program|owner's rule" doc:"How sure it is; owner's rule, if not written"`
}

// Parse reads a rules file. The list holds every fault of the reading.
func Parse(filename string, data []byte) (*File, diag.List) {
	f := &File{}
	return f, yamlfile.Decode(filename, data, f)
}
