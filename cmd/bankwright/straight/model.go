// Code generated from the rules for the default scenario. DO NOT EDIT.
// To renew: go test ./cmd/bankwright -run TestStraight -update

package straight

// Model is all kinds with the values of their items, in base units. NaN is absent, of a
// truth and of a text as well as of a number, which are 0 and 1, and places in texts.
type Model struct {
	Alternative [6]Alternative
	Battery     [2]Battery
	Inverter    [2]Inverter
	Source      [1]Source
	Load        [5]Load
	Site        Site
	Price       Price
	Constant    Constant
}
