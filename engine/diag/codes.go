package diag

// Codes says in a line what each diagnostic code means. A code is stable: what
// a script or a reader has learnt about it stays true.
var Codes = map[string]string{
	"absent":       "an optional value that was not given is used as if it were there",
	"bad-name":     "a name that names cannot be",
	"bounds":       "a value is outside the limits of its quantity",
	"choice":       "a text is not one of those that can be chosen",
	"currency":     "a currency is unknown, or two are mixed",
	"cycle":        "quantities need each other in a circle",
	"duplicate":    "the same thing is said twice",
	"encoding":     "the file is not plain UTF-8 text",
	"function":     "a function is unknown or its arguments do not fit",
	"include":      "a further file cannot be read or lies outside the folder",
	"limit":        "the file, a formula or a list is larger than what is read",
	"list":         "a list stands where one value belongs, or the other way round, or its length is wrong",
	"missing":      "a value that is needed was not given",
	"not-a-number": "a result cannot be computed from the values given",
	"number":       "a number cannot be read or is not finite",
	"series":       "the steps of a series are used in a way that has no meaning",
	"size":         "the model is larger than what can be computed",
	"syntax":       "the text cannot be read as TOML or as a formula",
	"table":        "a table of values is incomplete or used wrongly",
	"text":         "a text is empty, too long or refers to what is not there",
	"toml":         "the file is TOML, but uses it in a way that has no meaning here",
	"unit":         "a unit is unknown, or units do not fit each other",
	"unknown-key":  "a key is not one of those that may stand here",
	"unknown-name": "a name in a formula or a reference names nothing",
	"unusual":      "a value is possible but rare; it may be a slip",
	"wrong-kind":   "a number, a text, a truth value or an item stands where another of these belongs",
	"wrong-type":   "a table, a list or a value stands where another of these belongs",
}
