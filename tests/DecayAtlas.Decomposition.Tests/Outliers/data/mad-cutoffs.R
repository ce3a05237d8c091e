# Cut-offs for the largest |modified z-score| of a normal sample, at which 5, 2.5, 1 and 0.5 % of samples hold a value beyond; R 4.2, 400,000 samples each.
set.seed(20250301)
b <- c(NA, 1.196, 1.495, 1.363, 1.206, 1.2, 1.14, 1.129, 1.107)
for (n in c(5:20, 25, 30, 40, 50, 100)) {
  f <- if (n <= 9) b[n] else n / (n - .8)
  N <- if (n <= 20) 400000 else 100000
  x <- matrix(rnorm(N * n), n)
  s <- apply(x, 2, function(v) { d <- abs(v - median(v)); max(d) / (1.482602218505602 * f * median(d)) })
  cat(n, round(quantile(s, c(.95, .975, .99, .995)), 2), round(mean(s > 3.5), 4), "\n")
}
