# Reference numbers for burials known only to be at least something: R 4.2.2, no package. One-way design y = mu + u + e, of some y only y >= c
# is known. The restricted likelihood, mu integrated out as REML does, is an integral over mu of a product of one-dimensional integrals over
# each site's u: Gauss-Hermite about what the site's known values say of u, the trapezoid rule for mu. No approximation but these sums.
# Run: Rscript at-least.R    writes at-least-data.csv and at-least-reference.csv beside itself.
set.seed(7041)
hermite <- function(n) { b <- sqrt(seq_len(n - 1)); J <- diag(0, n); J[cbind(1:(n - 1), 2:n)] <- b; J[cbind(2:n, 1:(n - 1))] <- b
  e <- eigen(J, symmetric = TRUE); list(x = e$values, w = e$vectors[1, ]^2) }
gh <- hermite(60)
make <- function(set, sites, most, share) {
  site <- rep(seq_len(sites), sample(2:most, sites, TRUE)); y <- -4 + rnorm(sites, 0, 0.4)[site] + rnorm(length(site), 0, 0.3)
  cap <- round(quantile(y, 1 - share), 3) + round(runif(length(y), -0.1, 0.1), 3)
  data.frame(set, site = paste0("s", site), y = ifelse(y >= cap, cap, round(y, 6)), atleast = as.integer(y >= cap)) }
data <- rbind(make("few", 20, 5, 0.05), make("some", 14, 6, 0.15), make("many", 16, 6, 0.4))
write.csv(data, "at-least-data.csv", row.names = FALSE, quote = FALSE)
# log of the product over sites at given mu, by site: known values in closed form, the rest over what they leave open of u
logAt <- function(d, mu, vu, ve) sum(sapply(split(d, d$site), function(s) {
  k <- s$y[s$atleast == 0] - mu; c <- s$y[s$atleast == 1] - mu; n <- length(k)
  v <- 1 / (1 / vu + n / ve); m <- v * sum(k) / ve
  known <- if (n > 0) -0.5 * (n * log(2 * pi * ve) + log(1 + n * vu / ve) + sum(k^2) / ve - m^2 / v) else 0
  if (length(c) == 0) return(known)
  u <- m + sqrt(v) * gh$x
  known + log(sum(gh$w * exp(rowSums(matrix(pnorm(outer(u, c, "-") / sqrt(ve), log.p = TRUE), length(u))))))
}))
over <- function(d, vu, ve, whole = FALSE) {
  grid <- seq(-5.2, -2.6, length.out = if (whole) 521 else 131); l <- sapply(grid, function(mu) logAt(d, mu, vu, ve)); top <- max(l); w <- exp(l - top)
  if (!whole) return(top + log(sum(w) * diff(grid[1:2])))
  mean <- sum(w * grid) / sum(w); c(log = top + log(sum(w) * diff(grid[1:2])), mean = mean, sd = sqrt(sum(w * (grid - mean)^2) / sum(w))) }
ref <- do.call(rbind, lapply(unique(data$set), function(set) {
  d <- data[data$set == set, ]
  o <- nlminb(log(c(0.16, 0.09)), function(p) -2 * over(d, exp(p[1]), exp(p[2])), control = list(rel.tol = 1e-12, x.tol = 1e-9))
  r <- over(d, exp(o$par[1]), exp(o$par[2]), TRUE)
  data.frame(set, quantity = c("var.site", "var.Residual", "reml", "est", "se"), value = signif(c(exp(o$par), -2 * r["log"], r["mean"], r["sd"]), 10))
}))
write.csv(ref, "at-least-reference.csv", row.names = FALSE, quote = FALSE)
