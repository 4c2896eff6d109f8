package tongue

// spanishStakeOut are the points to put back on the ground and what to tape from.
var spanishStakeOut = []pair{
	{"start of the line as traced", "inicio de la línea rastreada"},
	{"end of the line as traced", "final de la línea rastreada"},
	{"traced again from here", "rastreada de nuevo desde aquí"},
	{"traced to here", "rastreada hasta aquí"},
	{"bend", "curva"},
	{"crosses {name}", "cruza {name}"},
	{"closest to {name}", "punto más cercano a {name}"},
	{"{say} from here", "{say} desde aquí"},
	{"{say} to here", "{say} hasta aquí"},
	{"{m}: {say}", "{m}: {say}"},
	{"{m} from {name}", "{m} desde {name}"},
	{"{m} square off {name}, {m2} from its start", "{m} a escuadra de {name}, a {m2} de su inicio"},
	{"{say} ({say2} of the way from {name} to {name2})", "{say} (a la {say2} del trayecto de {name} a {name2})"},
	{"{say} (one distance alone fixes no place)", "{say} (una sola distancia no fija ningún lugar)"},
	{"{say} (flat angle: fixes the place poorly)", "{say} (ángulo desfavorable: fija mal el lugar)"},
	{"Stake-out point {text}", "Punto de replanteo {text}"},
	{"Latitude, longitude (datum not stated): {text}", "Latitud, longitud (datum no indicado): {text}"},
	{"WGS 84 latitude, longitude: {text}", "Latitud, longitud WGS 84: {text}"},
	{"{text}, US survey ft: north {text2}, east {text3}", "{text}, pies de agrimensura estadounidenses: norte {text2}, este {text3}"},
	{"{text}: north {text2}, east {text3}", "{text}: norte {text2}, este {text3}"},
	{"{m};", "{m};"},
	{"{say};", "{say};"},
}
