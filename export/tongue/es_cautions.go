package tongue

// spanishCautions are the cautions of trace/cautions.go, whole.
var spanishCautions = []pair{
	{"Call before you dig. This map is not a locate: it does not replace notice to the one-call centre (811 in the US) and waiting for the owners' marks. Local law takes precedence",
		"Llame antes de excavar. Este mapa no es una localización en campo: no sustituye el aviso al centro de llamadas (811 en EE. UU.) ni la espera de las marcas de los propietarios de las líneas. La ley local tiene prioridad"},
	{"Positions are approximate. A line may lie anywhere in its zones, and outside them",
		"Las posiciones son aproximadas. Una línea puede estar en cualquier parte de sus zonas, y también fuera de ellas"},
	{"Inside the tolerance and caution zones dig by hand, by vacuum or by other means that do no harm, until the line is seen",
		"Dentro de las zonas de tolerancia y de precaución excave a mano, con equipo de vacío o con otros medios que no dañen, hasta ver la línea"},
	{"Expose to verify before crossing, boring or driving anything. A mark or a map never proves that nothing else is there: lines may be unmarked, plastic or unknown",
		"Descubra la línea para verificar antes de cruzarla, perforar o hincar nada. Una marca o un mapa nunca prueba que no haya nada más: puede haber líneas sin marcar, de plástico o desconocidas"},
	{"Depths are estimates to the centre of the line on the day they were read. Never set a digging depth or a clearance by them",
		"Las profundidades son estimaciones al centro de la línea en el día en que se leyeron. Nunca fije con ellas una profundidad de excavación ni una separación"},
	{"Marks and this map expire. Ask again when marks fade, when work or ground has changed, or when the ticket lapses",
		"Las marcas y este mapa caducan. Pida otra localización cuando las marcas se borren, cuando cambien la obra o el terreno, o cuando venza el ticket"},
	{"Stretches flagged for bleed-over may follow another line. Treat every line there as live and not located",
		"Los tramos con aviso de señal de línea vecina (bleed-over) pueden seguir otra línea. Trate toda línea en ese lugar como activa y no localizada"},
	{"Gas smelled, heard or hit: stop, leave machines and switches alone, keep flames away, move everybody upwind and away, then call the emergency number and the gas owner from a safe place. Do not plug or backfill",
		"Si huele u oye gas, o golpea una línea de gas: pare, no toque máquinas ni interruptores, mantenga lejos toda llama, aleje a todos hacia el lado de donde viene el viento, y después llame al número de emergencia y al propietario del gas desde un lugar seguro. No tapone ni rellene"},
	{"Electricity: treat every cable as live until its owner proves it dead. After a hit keep clear, never touch machine and ground together, keep others back and call the owner",
		"Electricidad: trate todo cable como energizado (con tensión) hasta que su propietario compruebe que no lo está. Tras un golpe manténgase lejos, nunca toque la máquina y el suelo a la vez, aparte a los demás y llame al propietario"},
	{"Report any damage, even a scraped coating, to the owner at once",
		"Avise de inmediato al propietario de cualquier daño, aunque sea un rasguño en el recubrimiento"},
	{"Connecting a transmitter to a power or gas asset, and lifting a bond, is for its owner or people the owner has authorised",
		"Conectar un transmisor a una instalación eléctrica o de gas, o desconectar una puesta a tierra o un puente de unión eléctrica, corresponde solo a su propietario o a quien el propietario haya autorizado"},
	{"Not a survey for design or property, and no statement of a quality level: that is a licensed professional's judgement. Do not merge with another reference frame without transforming it",
		"No es un levantamiento para diseño ni linderos, ni declara un nivel de calidad: eso lo juzga un profesional con licencia. No lo combine con otro marco de referencia sin transformarlo"},
	{"Positions and depths are estimates. Expose every line by hand or vacuum before digging near it",
		"Las posiciones y profundidades son estimaciones. Descubra (exponga) toda línea a mano o por vacío antes de excavar cerca de ella"},
	{"{n}  {say}", "{n}  {say}"}, // numbered on paper
	{"CAUTION", "PRECAUCIÓN"},
}
