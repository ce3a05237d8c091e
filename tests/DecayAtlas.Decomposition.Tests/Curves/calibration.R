# Ten sets of differences of S with their standard errors, and what R makes of them: data/calibration-*.csv, for PooledCalibration.cs.
# R 4.2, metafor 3.8-1. tau2 and beta: rma, REML. upper: where twice the restricted log
# likelihood, tau2 held, has fallen by 3.841 (profile likelihood).
# mean, lower, top: t.test, which is what the correction of Knapp and Hartung gives where the errors of all series are equal.
suppressMessages(library(metafor))
set.seed(20)
data <- NULL; reference <- NULL
for (set in 1:10) {
  n <- c(3, 4, 5, 7, 9, 9, 12, 20, 20, 40)[set]
  tau <- c(0.05, 0, 0.03, 0.1, 0.02, 0.06, 0, 0.03, 0.1, 0.05)[set]
  se <- signif(runif(n, 0.02, 0.12), 6)
  d <- signif(rnorm(n, 0.05, sqrt(tau^2 + se^2)), 6)
  a <- rma(d, sei = se, method = "REML", control = list(threshold = 1e-12, maxiter = 10000, stepadj = 0.5))
  rise <- function(x) 2 * (logLik(a) - logLik(rma(d, sei = se, method = "REML", tau2 = x))) - qchisq(0.95, 1)
  upper <- uniroot(rise, c(a$tau2, 5), tol = 1e-14)$root
  t <- t.test(d)
  data <- rbind(data, data.frame(set, d, se))
  reference <- rbind(reference, data.frame(set, tau2 = a$tau2, beta = as.numeric(a$beta), upper, mean = as.numeric(t$estimate),
                                           lower = t$conf.int[1], top = t$conf.int[2]))
}
write.csv(data, "data/calibration-data.csv", row.names = FALSE, quote = FALSE)
write.csv(format(reference, digits = 12, trim = TRUE), "data/calibration-reference.csv", row.names = FALSE, quote = FALSE)
