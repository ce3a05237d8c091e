# Factors of s of limits of agreement at n pairs, for ShortcutBias.cs. R 4.2, stats::qt.
# limit: t(0.975, n - 1) sqrt(1 + 1/n). near, far: ends of the exact 95 % interval of the 97.5 % point (Carkeet 2015), noncentral t.
# At n = 3 qt warns that full precision may not have been reached.
options(digits = 12)
z <- qnorm(0.975)
for (n in c(3, 5, 9, 17, 20, 200)) {
  cat(n, qt(0.975, n - 1) * sqrt(1 + 1 / n), qt(0.025, n - 1, ncp = z * sqrt(n)) / sqrt(n),
      qt(0.975, n - 1, ncp = z * sqrt(n)) / sqrt(n), "\n")
}
