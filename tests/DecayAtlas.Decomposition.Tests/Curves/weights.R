# Why series are not weighed by their own errors: 300 sets of n series as of the demo, S of the slow less S of the fast litter truly 0 with
# a standard deviation of tau. Printed: n, tau, bias and coverage of the 95 % interval of rma (REML, Knapp and Hartung), then of the plain
# mean with its t interval. Slow (ten minutes); R 4.2, metafor 3.8-1, nls.
suppressMessages(library(metafor))
set.seed(1)
days <- rep(c(20, 40, 62, 90, 118, 150), each = 3)
series <- function(tau) {
  s <- 0.28 + rnorm(1, 0, 0.03); k <- min(max(exp(rnorm(1, log(0.009), 0.2)), 0.006), 0.0135)
  slow <- s + rnorm(1, 0, tau); n <- length(days)
  kb <- k * exp(rnorm(n, 0, 0.1)); sb <- rnorm(n, 0, 0.012)
  wf <- 1 - 0.842 * (1 - s - sb) * (1 - exp(-8 * kb * days)) + rnorm(n, 0, 0.004)
  ws <- 1 - 0.552 * (1 - slow - sb) * (1 - exp(-kb * days)) + rnorm(n, 0, 0.004)
  f <- try(nls(y ~ 1 - H * (1 - ifelse(l == 1, a, b)) * (1 - exp(-ifelse(l == 1, kf, ks) * t)),
               data = data.frame(y = c(wf, ws), H = rep(c(0.842, 0.552), each = n), l = rep(1:2, each = n), t = c(days, days)),
               start = list(a = s, b = slow, kf = 8 * k, ks = k), control = list(warnOnly = TRUE, maxiter = 100)), silent = TRUE)
  if (inherits(f, "try-error")) return(c(NA, NA))
  x <- summary(f)$coef
  c(x["b", 1] - x["a", 1], sqrt(x["a", 2]^2 + x["b", 2]^2))
}
for (n in c(5, 9, 20)) for (tau in c(0, 0.03)) {
  r <- t(sapply(1:300, function(i) {
    m <- t(sapply(1:n, function(j) series(tau))); m <- m[complete.cases(m), ]
    a <- try(rma(m[, 1], sei = m[, 2], test = "knha", control = list(maxiter = 1000, stepadj = 0.5)), silent = TRUE)
    if (inherits(a, "try-error")) return(rep(NA, 4))
    t <- t.test(m[, 1])
    c(a$beta, a$ci.lb <= 0 & a$ci.ub >= 0, t$estimate, t$conf.int[1] <= 0 & t$conf.int[2] >= 0)
  }))
  cat(n, tau, round(colMeans(r, na.rm = TRUE), 3), "\n")
}
