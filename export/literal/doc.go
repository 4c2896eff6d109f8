// Package literal spells numbers and texts as file formats want them: fixed
// decimals and never an exponent by chance, JSON strings, XML text. The same
// value has the same spelling in every format.
package literal
