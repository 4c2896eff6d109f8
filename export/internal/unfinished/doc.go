// Package unfinished looks after files under temporary names: it makes them
// ([Beside]), takes them away when the program is stopped ([Abandon]), and removes
// what programs left that were killed while they wrote ([Sweep]).
package unfinished
