package tongue

// spanishNotes are what must be known of the fit of a line.
var spanishNotes = []pair{
	{"The signal display was at full scale ({n}) at {n2} readings: their antennas were not compared, and their signals tell nothing about air coupling or bleed-over",
		"La pantalla de señal estaba a fondo de escala ({n}) en {n2} lecturas: no se compararon sus antenas, y sus señales no dicen nada sobre acoplamiento por aire ni señal de línea vecina"},
	{"No depth is drawn from {m} to {m2}: {n} readings in a row came without one there, and most others have one",
		"No se dibuja profundidad de {m} a {m2}: {n} lecturas seguidas llegaron sin ella ahí, y la mayoría de las demás la tienen"},
	{"Where the table gives no depth, it was computed from the two antennas ({n} readings), at the distance that the other depths suppose",
		"Donde la tabla no da profundidad, se calculó con las dos antenas ({n} lecturas), a la distancia que suponen las demás profundidades"},
	{"The table gives no depth: it was computed at {n} readings from the two antennas, taken as {m} apart with the bottom one at the ground",
		"La tabla no da profundidad: se calculó en {n} lecturas con las dos antenas, tomadas a {m} una de otra con la inferior a ras de suelo"},
	{"Depths are set by 1 exposed depth: the receiver read {n} % (± {n2} %, 95 %) of the depth", "Las profundidades se ajustan con 1 profundidad descubierta: el receptor leyó el {n} % (± {n2} %, 95 %) de la profundidad"},
	{"Depths are set by {n} exposed depths: the receiver read {n2} % (± {n3} %, 95 %) of the depth", "Las profundidades se ajustan con {n} profundidades descubiertas: el receptor leyó el {n2} % (± {n3} %, 95 %) de la profundidad"},
	{"The stated position accuracy ({m}, one sigma) is optimistic: the readings scatter as at {m2}, and the bands are widened to that",
		"La exactitud de posición indicada ({m}, un sigma) es optimista: las lecturas se dispersan como con {m2}, y los márgenes se ensanchan a eso"},
	{"About {m} (95 %) of what the line may be off to the side is the same along the whole walk: more readings that day would not show it",
		"Unos {m} (95 %) del posible error lateral son comunes a todo el recorrido: más lecturas ese día no lo revelarían"},
	{"Depths are drawn up to {m} outside those that were read nearby, for what the line's own course beside itself does to a reading; the band there holds what was read",
		"Se dibujan profundidades hasta {m} fuera de las leídas cerca, por lo que altera una lectura el propio trazado de la línea cuando corre junto a sí misma; el margen ahí abarca lo leído"},
	{"No smooth line holds these readings: the line is drawn from reading to reading, and between two of them it may run elsewhere",
		"Ninguna línea suave se ajusta a estas lecturas: la línea se dibuja de lectura a lectura, y entre dos de ellas puede ir por otro lado"},
	{"Nothing in the table bounds the error that all positions have in common: no accuracy that its fix can reach is stated, and no fix better than an autonomous one. That of an autonomous receiver is in the band, {m} (95 % of its positions lie within {m2} by the published standard of the open service)",
		"Nada en la tabla acota el error que todas las posiciones tienen en común: no se indica una exactitud que su solución (fix) pueda alcanzar, ni una solución mejor que la autónoma. La de un receptor autónomo está en el margen, {m} (95 % de sus posiciones quedan dentro de {m2} según la norma publicada del servicio abierto)"},
	{"No accuracy that the fix can reach is stated: what all positions of such a fix may be off together, {m}, is in the band (common practice, no published figure)",
		"No se indica una exactitud que la solución (fix) pueda alcanzar: lo que todas las posiciones de tal solución pueden desviarse juntas, {m}, está en el margen (práctica común, sin cifra publicada)"},
	{"The positions are rounded: their digits alone hide up to {m} across the line, which is in the band", "Las posiciones están redondeadas: solo sus dígitos ocultan hasta {m} a través de la línea, lo que está en el margen"},
}
