# Reference numbers for the joint fit of both litters: R 4.2 stats::nls and anova.nls; unbalanced, invented.
options(digits = 12); set.seed(21)
t <- c(12, 12, 25, 40, 40, 61, 90, 90, 90, 130, 200, 10, 30, 30, 45, 60, 90, 120, 120, 180, 260); fast <- rep(c(1, 0), c(11, 10))
h <- ifelse(fast == 1, .842, .552)
w <- round(1 - h * (1 - ifelse(fast == 1, .25, .32)) * (1 - exp(-ifelse(fast == 1, .06, .011) * t)) + rnorm(21, 0, .012), 4)
cat("w:", w, "\n")
a <- nls(w ~ 1 - h * (1 - S) * (1 - exp(-(fast * kf + (1 - fast) * ks) * t)), start = list(S = .3, kf = .05, ks = .01), control = nls.control(tol = 1e-6))
b <- nls(w ~ 1 - h * (1 - (fast * Sf + (1 - fast) * Ss)) * (1 - exp(-(fast * kf + (1 - fast) * ks) * t)), start = list(Sf = .3, Ss = .3, kf = .05, ks = .01), control = nls.control(tol = 1e-6))
print(coef(summary(a))[, 1:2]); print(coef(summary(b))[, 1:2]); print(anova(a, b)); print(anova(a, b)[2, 5:6])
