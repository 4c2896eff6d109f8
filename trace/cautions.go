package trace

// Cautions returns what every map says, in our own words. They defer to local
// law, the one-call centre and licensed practice.
func Cautions() []string {
	return []string{
		"Call before you dig. This map is not a locate: it does not replace notice to the one-call centre (811 in the US) and waiting for the owners' marks. Local law takes precedence.",
		"Positions are approximate. A line may lie anywhere in its zones, and outside them. If a line is not found where it is drawn, stop and have it located again.",
		"Inside the tolerance and caution zones dig by hand, by vacuum or by other means that do no harm, until the line is seen.",
		"Expose to verify before crossing, boring or driving anything. A mark or a map never proves that nothing else is there: lines may be unmarked, plastic or unknown.",
		"Depths are estimates to the centre of the line on the day they were read. Never set a digging depth or a clearance by them.",
		"Marks and this map expire. Ask again when marks fade, when work or ground has changed, or when the ticket lapses.",
		"Stretches flagged for bleed-over may follow another line. Treat every line there as live and not located.",
		"Gas smelled, heard or hit: stop, leave machines and switches alone, keep flames away, move everybody upwind and away, then call the emergency number and the gas owner from a safe place. Do not plug or backfill.",
		"Electricity: treat every cable as live until its owner proves it dead. After a hit keep clear, never touch machine and ground together, keep others back and call the owner.",
		"Report any damage, even a scraped coating, to the owner at once.",
		"Connecting a transmitter to a power or gas asset, and lifting a bond, is for its owner or people the owner has authorised.",
		"Not a survey for design or property, and no statement of a quality level: that is a licensed professional's judgement. Do not merge with another reference frame without transforming it.",
	}
}

// ShortCaution stands where the cautions find no room: below a table, a
// comparison or a summary. It never replaces them on a map.
const ShortCaution = "Not a locate and not a survey: positions are approximate and depths are estimates. " +
	"Call before you dig (811 in the US), dig by hand in the zones, expose to verify. " +
	"Local law, the one-call centre and licensed practice take precedence."
