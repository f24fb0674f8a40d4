package check

// Caution is what stands once beside the findings that deal with one kind of danger.
type Caution struct {
	Kind string `json:"kind"`
	Text string `json:"text"`
}

// Local is what stands with every caution.
const Local = "Follow local codes and the makers' instructions; where a licence is required, have a licensed person do the work. Campwright checks and explains; it does not certify."

// The kinds of danger. Their texts are in our own words; what they say is common practice, and the figures in them are those of the rules.
const (
	BatteryFault = "battery"
	SunLive      = "live modules"
	ColdCells    = "cold cells"
	AlternatorOn = "alternator"
	ShorePower   = "shore power"
	Fumes        = "fumes"
	LeadAcid     = "lead-acid"
	RoofWork     = "roof"
)

var cautions = []Caution{
	{BatteryFault, "A bank of 12 or 24 V gives no shock, one of 48 V can, and each can drive thousands of amps through a dropped spanner: take rings off, cover the posts, put the main fuse in last, and open the main switch before any change. Check that the main fuse can interrupt what the bank can drive."},
	{SunLive, "Modules in daylight cannot be switched off. Cover them or open their disconnect before you touch the wires, and never pull a plug that carries current: a direct-current arc does not go out by itself. Measure the open voltage at the disconnect before you join a string to a controller."},
	{ColdCells, "Charging lithium iron phosphate cells below freezing plates them with metal that no later charge removes. Let the battery's own electronics, a heater or a sensor stop it; never freeze a battery to try whether they do. The case can read warmer than the cells."},
	{AlternatorOn, "A bank that takes all it can get can hold an alternator at full output until it burns, and a battery that opens while it is charged leaves the vehicle with a surge. Feel for heat and smell after the first twenty minutes at idle, with the engine off before you reach in."},
	{ShorePower, "Mains can kill. Test polarity, ground and both legs of a post under load before you join it, and join neutral and ground in one place only: at the source that is feeding. Shore, generator and inverter must never feed the same wires together unless they are listed for it."},
	{Fumes, "Burners and engines kill by carbon monoxide: keep a working alarm, keep exhaust clear of windows, never run a generator in or under an enclosure, and close the cylinder before you work on propane. Find leaks with solution, never with a flame."},
	{LeadAcid, "Lead-acid batteries give off hydrogen while they charge: vent them outdoors, keep sparks away, wear eye protection. An empty one freezes and bursts in the cold."},
	{RoofWork, "Roofs of rigs are high, soft and slippery. Work with a helper, stay clear of edges and skylights, and hold on to something that holds you."},
}

// CautionFor returns the caution of a kind of danger, and false for a kind that is none.
func CautionFor(kind string) (Caution, bool) {
	for _, c := range cautions {
		if c.Kind == kind {
			return c, true
		}
	}
	return Caution{}, false
}

// Cautions returns all cautions.
func Cautions() []Caution { return append([]Caution(nil), cautions...) }
