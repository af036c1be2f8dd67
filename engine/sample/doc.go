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
// Sources, beside those named in full where they are used:
// Owen, Randomly permuted (t,m,s)-nets and (t,s)-sequences (1995), and Scrambled net
// variance for integrals of smooth functions, Annals of Statistics 25 (1997);
// Joe and Kuo, SIAM Journal on Scientific Computing 30 (2008);
// Laine and Karras, Stratified sampling for stochastic transparency, Computer
// Graphics Forum 30 (2011); Burley, Practical hash-based Owen scrambling, Journal of
// Computer Graphics Techniques 9 (2020); Vegdahl, Building a better LK hash (2021);
// Wichura, Applied Statistics 37 (1988); Wallace, Annals of Mathematical Statistics
// 30 (1959); Kruskal, Ordinal measures of association, Journal of the American
// Statistical Association (JASA) 53 (1958); Welford, Technometrics 4 (1962);
// Chan, Golub and LeVeque, American Statistician 37 (1983); Hyndman and Fan, American
// Statistician 50 (1996); Woodruff, JASA 47 (1952); Clopper and Pearson, Biometrika 26
// (1934); L'Ecuyer, Nakayama, Owen and Tuffin, Confidence intervals for randomized
// quasi-Monte Carlo estimators, Winter Simulation Conference (2023); Sobol',
// Mathematical Modelling and Computational Experiment 1 (1993); Saltelli and others,
// Computer Physics Communications 181 (2010); Jansen, the same 117 (1999).
//
// Every result depends on the seed and the order of points alone, not on which
// core computed a block or how long a block was.
package sample
