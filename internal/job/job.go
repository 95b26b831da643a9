// Package job is the job file: what was found on site (survey) and what was chosen.
//
// Stage: the beginning. It takes the bytes of a job file and gives a Job, every fault
// of meaning in one go, and edits that change only the bytes they must. It knows
// nothing of engineering.
package job

import (
	"tideover/internal/assume"
	"tideover/internal/quantity"
)

// Job is everything a job file states. The tag of each leaf is its path in the file and
// in the field table, which is the single description of it: label, limits, default.
// Lists are maps keyed by tag in the file and slices ordered by their place in it here.
type Job struct {
	Format  int    `job:"format"`
	Name    string `job:"name"`
	Units   string `job:"units"`   // metric | us | imperial
	Profile string `job:"profile"` // a local-rules profile
	Date    string `job:"date"`    // ISO 8601; stands on every sheet
	Seed    int    `job:"seed"`
	Prices  string `job:"prices"` // a CSV beside the job file, or ""

	Place         Place         `job:"place"`
	Supply        Supply        `job:"supply"`
	Interruptions Interruptions `job:"interruptions"`
	Consent       Consent       `job:"consent"`
	Access        Access        `job:"access"`
	Home          Home          `job:"home"`
	Uses          []Use         `job:"uses"`
	Outlets       []Outlet      `job:"outlets"`
	Power         Power         `job:"power"`
	Pipework      Pipework      `job:"pipework"`
	Existing      []Existing    `job:"existing"`
	Choices       Choices       `job:"choices"`
	Parts         []FreePart    `job:"parts"` // of a free arrangement
	Joins         []FreeJoin    `job:"joins"` // of a free arrangement
	Added         []Added       `job:"added"`
	Notes         string        `job:"notes"`
	Bought        []Bought      `job:"bought"`
	Photos        []Photo       `job:"photos"`

	// Logged is what the log of interruptions comes to in the coming years, where it was read: it goes
	// before what is told. Read off the log's bytes, which no file of a job holds.
	Logged []Spell

	// CutsLogged is the same of the log of power cuts.
	CutsLogged []Spell

	Assumed assume.Values // what is taken otherwise than usual, to see what hangs on it; no file says it
}

// Place is where the home stands.
type Place struct {
	Address   string                             `job:"place.address"`
	Altitude  quantity.Val[quantity.Length]      `job:"place.altitude"`
	Water     quantity.Val[quantity.Temperature] `job:"place.water"` // water as it arrives
	Ground    string                             `job:"place.ground"`
	Slope     quantity.Val[quantity.Ratio]       `job:"place.slope"`
	HighWater Answer                             `job:"place.high-water"` // yes | no | unknown: does water stand within one width of the base
	Frost     Answer                             `job:"place.frost"`      // yes | no | unknown
	Midsummer string                             `job:"place.midsummer"`  // north | south | none | unknown: when it is
	Hot       quantity.Val[quantity.Temperature] `job:"place.hot-day"`    // air on the afternoon of a hot day; no basis of its own where it is not told
	Cold      quantity.Val[quantity.Temperature] `job:"place.cold-night"` // air on a cold night
	Spell     quantity.Val[quantity.Time]        `job:"place.cold-spell"` // how long it freezes without a break; 0 not told
}

// Supply is the public main as it was found.
type Supply struct {
	Static       quantity.Val[quantity.Pressure] `job:"supply.static"`       // at the gauge, nothing running
	Gauge        quantity.Val[quantity.Length]   `job:"supply.gauge-height"` // of the gauge above the ground at the meter
	LowFlow      quantity.Val[quantity.Flow]     `job:"supply.flow-test.low-flow"`
	LowRes       quantity.Val[quantity.Pressure] `job:"supply.flow-test.low-pressure"`
	HighFlow     quantity.Val[quantity.Flow]     `job:"supply.flow-test.high-flow"`
	HighRes      quantity.Val[quantity.Pressure] `job:"supply.flow-test.high-pressure"`
	PeakRes      quantity.Val[quantity.Pressure] `job:"supply.peak.pressure"`      // sag at the worst hours
	PeakFlow     quantity.Val[quantity.Flow]     `job:"supply.peak.flow"`          // flowing then, at the gauge
	PeakOpenFlow quantity.Val[quantity.Flow]     `job:"supply.peak.open-flow"`     // of a second reading in those hours, with a tap open
	PeakOpenRes  quantity.Val[quantity.Pressure] `job:"supply.peak.open-pressure"` // while that ran
	PeakFrom     Clock                           `job:"supply.peak.from"`          // of the worst hours, daily
	PeakTo       Clock                           `job:"supply.peak.to"`
	NightMax     quantity.Val[quantity.Pressure] `job:"supply.night-maximum"`
	Pipe         quantity.Size                   `job:"supply.service.pipe"`
	Length       quantity.Val[quantity.Length]   `job:"supply.service.length"`
	Meter        string                          `job:"supply.meter"`         // catalogue row
	StopTap      string                          `job:"supply.stop-valve"`    // catalogue row | none | unknown
	Check        string                          `job:"supply.non-return"`    // catalogue row | none | unknown
	Chlorine     quantity.Val[quantity.Dose]     `job:"supply.chlorine"`      // free, as a strip at a tap on the main reads it
	ChlorineLeft quantity.Val[quantity.Dose]     `job:"supply.chlorine-left"` // the same water after a day in a closed jar
	Booster      Answer                          `job:"supply.booster"`       // yes | with-consent | asked | no | unknown: the supplier's answer about a pump that draws on the main
	Bypass       Answer                          `job:"supply.by-pass"`       // yes | with-consent | asked | no | unknown: the supplier's answer

	HouseLevel  quantity.Val[quantity.Length]   `job:"supply.house-test.level"` // of the gauge above the ground at the meter
	HouseStatic quantity.Val[quantity.Pressure] `job:"supply.house-test.static"`
	HouseFlow   quantity.Val[quantity.Flow]     `job:"supply.house-test.flow"`
	HouseRes    quantity.Val[quantity.Pressure] `job:"supply.house-test.pressure"`
	Neighbour   string                          `job:"supply.neighbour"`      // fine | weak | unknown
	SecondStop  string                          `job:"supply.second-stop"`    // open | part-shut | none | unknown
	MeterScreen string                          `job:"supply.meter-strainer"` // clean | dirty | none | unknown
	Shared      Answer                          `job:"supply.shared"`         // yes | no | unknown: does somebody else hang on the service pipe
}

// Interruptions is when the main is off: a log, a timetable or a habit in words.
type Interruptions struct {
	Habit       []Spell                      `job:"interruptions.habit"`      // "about 2 a week, 10 to 20 h; dry season 2 to 4 d with 6 h weak between"
	Timetable   []Slot                       `job:"interruptions.timetable"`  // "Mon Wed 06:00-12:00": when the main is ON
	Log         string                       `job:"interruptions.log"`        // a CSV of start,end beside the job file
	Begin       string                       `job:"interruptions.begin"`      // day | night | any | unknown
	Weak        []Spell                      `job:"interruptions.weak"`       // the main is there, and too weak for the home
	WeakAfter   quantity.Val[quantity.Time]  `job:"interruptions.weak-after"` // how long it is so once it comes back
	PowerCuts   []Spell                      `job:"interruptions.power-cuts"`
	PowerLog    string                       `job:"interruptions.power-log"`        // a CSV of start,end beside the job file
	StopsMain   quantity.Val[quantity.Ratio] `job:"interruptions.power-stops-main"` // share of the power cuts in which the main fails too
	Notice      Answer                       `job:"interruptions.boil-notice"`      // yes | no | unknown: does an interruption bring one
	NoticeLasts quantity.Val[quantity.Time]  `job:"interruptions.notice-lasts"`     // from when the main is back
	NoticeMain  string                       `job:"interruptions.notice-main"`      // nothing | wc: what runs on the main meanwhile
}

// Spell is one clause of a habit: so many interruptions a year, of a length between two
// bounds. PerYear is 0 where only lengths were told (a worst case without a frequency).
type Spell struct {
	When        string        // "" or what precedes the numbers: "dry season"
	PerYear     float64       // 1/year
	Least, Most quantity.Time // s
	Weak        quantity.Time // how long the main is weak once it is back
	Between     bool          // and then the next one of the kind comes: they follow each other so
	From        string        // clause as written
}

// Slot is one time in which the main is on, every Cycle minutes; a Cycle of 0 is a week,
// and minutes count from Monday 00:00, else from the first day of the round.
type Slot struct{ From, To, Cycle int }

// Consent is who has agreed to the work.
type Consent struct {
	Tenure      string `job:"consent.tenure"`   // owner | tenant | shared | unknown
	Landlord    Answer `job:"consent.landlord"` // given | asked | refused | unknown; of a shared building, the owners together
	Permit      Answer `job:"consent.permit"`   // given | asked | refused | not-needed | unknown: of the local authority
	Engineer    Answer `job:"consent.engineer"` // signed | asked | refused | unknown: for a stand, roof or floor
	Electrician Answer `job:"consent.electrician"`
	Insurer     Answer `job:"consent.insurer"` // told | refused | not-needed | unknown
}

// Access is the limits a design has to keep: the way in, the floor, the money.
type Access struct {
	Door   quantity.Val[quantity.Length] `job:"access.door"`       // narrowest door or gate on the way; 0 not told
	Place  string                        `job:"access.place"`      // ground | roof | unknown: where the store may stand
	Pump   Answer                        `job:"access.pump"`       // yes | no: may there be a pump
	Floor  quantity.Val[quantity.Load]   `job:"access.floor-load"` // what the floor is said to carry; 0 not told
	Budget quantity.Val[quantity.Ratio]  `job:"budget.most"`       // in the currency of the price list
}

// Home is who lives there and what heats their water.
type Home struct {
	People quantity.Val[quantity.Ratio]  `job:"home.people"`
	Use    quantity.Val[quantity.Volume] `job:"home.use"`          // per person a day
	Short  Answer                        `job:"home.use-rationed"` // yes | no | unknown: water was short when the use was read
	Level  quantity.Val[quantity.Length] `job:"home.level"`        // ground at the house above ground at the meter
	Away   Hours                         `job:"home.away"`         // nobody is in, on working days
	InDays quantity.Val[quantity.Ratio]  `job:"home.in-days"`      // working days of a week on which somebody is in after all

	Meter     Meter                        `job:"home.meter"`
	Guests    quantity.Val[quantity.Ratio] `job:"home.guests"`        // so many more people while guests are there
	GuestDays quantity.Val[quantity.Ratio] `job:"home.guest-days"`    // of a year
	AwayDays  quantity.Val[quantity.Ratio] `job:"home.away-days"`     // of a year, on which nobody is there
	SavesAt   quantity.Val[quantity.Ratio] `job:"home.saves-at"`      // share of the store below which people begin to save; 0 never
	HardAt    quantity.Val[quantity.Ratio] `job:"home.saves-hard-at"` // and below which they save hard

	Heater string                          `job:"home.heater.type"` // catalogue row | none | unknown
	Rating quantity.Val[quantity.Pressure] `job:"home.heater.rating"`
	Vent   Answer                          `job:"home.heater.vent"` // yes | no | unknown

	HotVolume quantity.Val[quantity.Volume] `job:"home.heater.volume"` // of a storage heater; 0 not told
}

// Meter is two readings of the home's own water meter.
type Meter struct {
	First      quantity.Val[quantity.Volume] `job:"home.meter.first"`
	FirstDate  string                        `job:"home.meter.first-date"`
	Second     quantity.Val[quantity.Volume] `job:"home.meter.second"`
	SecondDate string                        `job:"home.meter.second-date"`
}

// Use is how this home uses water for one thing, where it differs from the usual. What is
// nought was not told.
type Use struct {
	Tag     string
	Kind    string                        `job:"uses.*.kind"`    // catalogue row
	PerDay  quantity.Val[quantity.Ratio]  `job:"uses.*.per-day"` // draws of a person, or of the home
	Volume  quantity.Val[quantity.Volume] `job:"uses.*.volume"`
	Flow    quantity.Val[quantity.Flow]   `job:"uses.*.flow"`
	Careful quantity.Val[quantity.Ratio]  `job:"uses.*.careful"` // share of the draws still made by people who save
	Hard    quantity.Val[quantity.Ratio]  `job:"uses.*.hard"`    // and by those who save hard
}

// Outlet is one place where water is drawn.
type Outlet struct {
	Tag      string
	Kind     string                        `job:"outlets.*.kind"`     // catalogue row
	Height   quantity.Val[quantity.Length] `job:"outlets.*.height"`   // above the ground at the house
	Distance quantity.Val[quantity.Length] `job:"outlets.*.distance"` // of pipe from the home's header
	Pipe     quantity.Size                 `job:"outlets.*.pipe"`
	Water    string                        `job:"outlets.*.water"`  // cold | hot | both
	From     string                        `job:"outlets.*.from"`   // main | store: where the arrangement splits the home; "" by its kind
	Mouth    string                        `job:"outlets.*.mouth"`  // air | under-water | unknown
	Hangs    string                        `job:"outlets.*.hangs"`  // nothing | hose | sprayer | hand-spray | drip-line | appliance; "" not told
	Device   string                        `job:"outlets.*.device"` // catalogue row of what keeps water there from coming back | none
}

// Power is what drives the pump.
type Power struct {
	Voltage quantity.Val[quantity.Voltage] `job:"power.voltage"`
	Battery Answer                         `job:"power.battery"`        // yes | no | wanted
	Stores  quantity.Val[quantity.Energy]  `job:"power.battery-stores"` // on its label
}

// Pipework is the distances between the parts that will be built.
type Pipework struct {
	ToStore  quantity.Val[quantity.Length] `job:"pipework.tee-to-store"` // tee-off to float valve
	ToPump   quantity.Val[quantity.Length] `job:"pipework.store-to-pump"`
	ToHome   quantity.Val[quantity.Length] `job:"pipework.pump-to-home"`  // pump to the changeover
	Drop     quantity.Val[quantity.Length] `job:"pipework.store-to-home"` // down from a raised store
	Header   quantity.Val[quantity.Length] `job:"pipework.changeover-to-header"`
	Outdoors quantity.Size                 `job:"pipework.outdoors"`
	Indoors  quantity.Size                 `job:"pipework.indoors"`
	Bends    quantity.Val[quantity.Ratio]  `job:"pipework.bends-per-run"`
	Routes   string                        `job:"pipework.routes"` // reserved: refused when given
}

// Existing is a part that is there already.
type Existing struct {
	Tag       string
	Kind      string `job:"existing.*.kind"`
	Row       string `job:"existing.*.row"`
	Condition string `job:"existing.*.condition"` // good | worn | broken | unknown
	Decision  string `job:"existing.*.decision"`  // keep | replace
	Photo     string `job:"existing.*.photo"`
}

// Choices is what the fitter and the owner chose.
type Choices struct {
	Arrangement string                          `job:"choices.arrangement"` // through-store | main-first | three-way | free
	Store       string                          `job:"choices.store.row"`   // catalogue row
	Stores      quantity.Val[quantity.Ratio]    `job:"choices.store.count"`
	StoreLevel  quantity.Val[quantity.Length]   `job:"choices.store.level"`           // base above the ground at the meter
	Category    string                          `job:"choices.store.category"`        // fluid category: 2 (owner's claim) | 3 | 5
	Also        string                          `job:"choices.store.also"`            // none | rain | borehole | tanker | sump | unknown: what else gets into it
	Spill       string                          `job:"choices.store.spill"`           // pipe | slot | none | unknown: how it lets off what it cannot hold
	Overflow    quantity.Val[quantity.Length]   `job:"choices.store.overflow"`        // bore of the pipe; 0 not known
	OverHeight  quantity.Val[quantity.Length]   `job:"choices.store.overflow-height"` // bottom of the bore, or sill of the slot, above the base; 0 as the catalogue row says
	Slot        quantity.Val[quantity.Length]   `job:"choices.store.slot"`            // width of the slot; 0 not known
	Screen      string                          `job:"choices.store.screen"`          // across | wide | none | unknown
	Mouth       quantity.Val[quantity.Length]   `job:"choices.store.mouth-height"`    // of the float valve above the base; 0 as the catalogue row says
	Exercise    quantity.Val[quantity.Time]     `job:"choices.store.exercise"`        // from one routine to the next, in which the home is run on the store; 0 never
	ExerciseFor quantity.Val[quantity.Time]     `job:"choices.store.exercise-for"`    // how long the home runs on the store each time
	InTurn      Answer                          `job:"choices.store.in-turn"`         // yes | no: two equal stores, one drawn after the other, the lead changing at each refill
	Stands      string                          `job:"choices.store.stands"`          // sun | shade | indoors
	Colour      string                          `job:"choices.store.colour"`          // black | green | beige | white
	Insulation  quantity.Val[quantity.Length]   `job:"choices.store.insulation"`      // of foam
	Alarm       string                          `job:"choices.store.alarm"`           // level-alarm | none: what tells of a store about to overflow, where no level switch does
	Float       string                          `job:"choices.float"`
	HeaderRow   string                          `job:"choices.header.row"`             // catalogue row of the header tank, where the arrangement has one
	HeaderLevel quantity.Val[quantity.Length]   `job:"choices.header.level"`           // base above the ground at the meter
	HeaderFloat string                          `job:"choices.header.float"`           // catalogue row
	HeaderOver  quantity.Val[quantity.Length]   `job:"choices.header.overflow"`        // bore; 0 not known
	HeaderLip   quantity.Val[quantity.Length]   `job:"choices.header.overflow-height"` // bottom of the bore above the base; 0 as the catalogue row says
	HeaderAlarm string                          `job:"choices.header.alarm"`           // level-alarm | none
	Pump        string                          `job:"choices.pump.row"`
	Pumps       quantity.Val[quantity.Ratio]    `job:"choices.pump.count"`
	PumpDuty    string                          `job:"choices.pump.duty"` // standby: one runs, the others wait; assist: all may run together
	Plate       Plate                           `job:"choices.pump.measured"`
	PumpLevel   quantity.Val[quantity.Length]   `job:"choices.pump.level"`   // above the ground at the meter
	Control     string                          `job:"choices.pump.control"` // pressure-switch | flow-control | speed-control
	Guard       string                          `job:"choices.pump.guard"`   // level-switch | none: what bars the pump on an empty store, whatever its control
	CutIn       quantity.Val[quantity.Pressure] `job:"choices.pump.cut-in"`
	CutOut      quantity.Val[quantity.Pressure] `job:"choices.pump.cut-out"` // set pressure of a speed control
	Vessel      string                          `job:"choices.vessel.row"`
	Charge      quantity.Val[quantity.Pressure] `job:"choices.vessel.charge"`
	Expansion   string                          `job:"choices.heater-vessel"` // catalogue row | none: takes up what a storage heater's water swells
	LockLow     quantity.Val[quantity.Pressure] `job:"choices.lock-out.low"`  // main side: pump allowed below
	LockHigh    quantity.Val[quantity.Pressure] `job:"choices.lock-out.high"` // main side: pump locked out above
	Regulator   string                          `job:"choices.regulator.row"` // catalogue row | none: holds the pressure behind the house's stop valve
	RegSet      quantity.Val[quantity.Pressure] `job:"choices.regulator.set"` // at its outlet, nothing drawn
	Backflow    string                          `job:"choices.backflow"`      // device at the service: catalogue row
	Bleach      quantity.Val[quantity.Ratio]    `job:"choices.disinfectant.strength"`
	Convention  string                          `job:"choices.disinfectant.convention"` // w/w | w/v
	Bought      string                          `job:"choices.disinfectant.bought"`     // ISO date on the bottle, or ""
}

// Plate is a pump's nameplate, and what a gauge and a bucket read of it.
type Plate struct {
	Head         quantity.Val[quantity.Length]   `job:"choices.pump.measured.greatest-head"` // lifts no water so high
	Flow         quantity.Val[quantity.Flow]     `job:"choices.pump.measured.greatest-flow"` // at no head
	ReadFlow     quantity.Val[quantity.Flow]     `job:"choices.pump.measured.flow"`
	ReadPressure quantity.Val[quantity.Pressure] `job:"choices.pump.measured.pressure"` // at its outlet while that runs
	Current      quantity.Val[quantity.Current]  `job:"choices.pump.measured.current"`  // on the plate of its motor, or of the speed control it hangs on
}

// FreePart is one part of an arrangement that is listed freely. Its outlets and the main
// are not listed: the main is there, and the outlets have their own list.
type FreePart struct {
	Tag    string
	Kind   string                        `job:"parts.*.kind"`
	Row    string                        `job:"parts.*.row"`    // catalogue row; "" takes what the choices name for its kind
	Size   quantity.Size                 `job:"parts.*.size"`   // of a pipe
	Length quantity.Val[quantity.Length] `job:"parts.*.length"` // of a pipe
	Height quantity.Val[quantity.Length] `job:"parts.*.height"` // above the ground at the meter
	Stands string                        `job:"parts.*.stands"` // where its handle stands now
	Kept   Answer                        `job:"parts.*.kept"`   // yes | no: there already and kept
}

// FreeJoin joins parts of a free arrangement in a line, the way the water goes.
type FreeJoin struct {
	Tag  string
	Role string `job:"joins.*.role"` // leg of the arrangement
	Line string `job:"joins.*.line"` // "main, m1, v1, t1.branch"
}

// Added is a part that is put in beside one that the arrangement, or the list, has.
type Added struct {
	Tag    string
	Kind   string `job:"added.*.kind"`   // non-return | hand-valve | vessel | drain | regulator
	Row    string `job:"added.*.row"`    // catalogue row; "" takes the usual one of the thread it is met by
	Beside string `job:"added.*.beside"` // tag of a part, in capitals or not
	End    string `job:"added.*.end"`    // port of that part at which it goes

	Set quantity.Val[quantity.Pressure] `job:"added.*.set"` // of a regulator, at its outlet, nothing drawn; 0: as the one at the stop valve
}

// Bought is a part as it was bought, where the merchant had another.
type Bought struct {
	Tag  string
	Row  string                       `job:"bought.*.row"`  // catalogue row, or words
	For  string                       `job:"bought.*.for"`  // field whose choice it is
	From string                       `job:"bought.*.from"` // merchant
	Paid quantity.Val[quantity.Ratio] `job:"bought.*.paid"` // in the currency of the price list
	Date string                       `job:"bought.*.date"`
}

// Photo is a picture that belongs to the job.
type Photo struct {
	Tag   string
	File  string `job:"photos.*.file"`
	Shows string `job:"photos.*.shows"`
}

// Edit is one change of a job file.
type Edit struct {
	Op   Op
	Path string // "supply.static", "outlets.shower-up.height"
	Text string // the new value as a person would write it; for Insert the new item's fields, "kind: shower, height: 6 m"
}

// Op is one of the four edit operations.
type Op uint8

// The edit operations.
const (
	Set    Op = iota // give a field a value, adding it at the field table's place if absent
	Unset            // take a field out: it is assumed again
	Insert           // add an item to a list keyed by tag
	Remove           // take an item out of a list
)
