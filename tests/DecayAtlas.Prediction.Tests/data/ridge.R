# Ridge regression by its formula, on the soils of meuse.csv: ln of zinc on elevation and distance to the river, row i weighing 1 + i mod 3.
# The last line is lm with the same weights, which a vanishing penalty must come to. Run in this folder: Rscript ridge.R > ridge.txt
d <- read.csv("meuse.csv")
x <- as.matrix(d[, c("elev", "dist")]); y <- d$ln_zinc
w <- 1 + (seq_len(nrow(d)) - 1) %% 3; w <- w / sum(w)
m <- colSums(w * x); s <- sqrt(colSums(w * sweep(x, 2, m)^2))
z <- sweep(sweep(x, 2, m), 2, s, "/")
for (penalty in c(0.1, 0.01, 0.001, 0.0001)) {
  b <- solve(t(z) %*% (w * z) + penalty * diag(2), t(z) %*% (w * (y - sum(w * y)))) / s
  cat(penalty, sprintf("%.12g", c(b, sum(w * y) - sum(b * m))), "\n")
}
f <- coef(lm(y ~ x, weights = w))
cat("0", sprintf("%.12g", c(f[2:3], f[1])), "\n")
