// Package style is how utilities and doubts look in every format: colours,
// letter codes, dashes, widths. One table, and never colour alone.
package style
