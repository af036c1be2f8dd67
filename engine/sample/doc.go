// Package sample makes plans of sample points and the statistics of what a model
// answers to them: scrambled Sobol' points, distributions by their quantiles,
// correlation of inputs, percentiles and probabilities with their sampling error,
// and shares of the variance. It knows numbers only, no quantities and no model.
//
// A study goes so: a Sobol fills columns with numbers between 0 and 1, a
// Correlation ties some of them together, Transform makes each a value of its
// Distribution; the model is computed over these columns, and a Summary takes its
// answers. Replicates does so for several scrambles and tells from their spread
// how far the figures are out. A Design and Indices do the same for the shares
// that each input has in the variance of the answer.
//
// Every result depends on the seed and the order of points alone, not on which
// core computed a block or how long a block was.
package sample
