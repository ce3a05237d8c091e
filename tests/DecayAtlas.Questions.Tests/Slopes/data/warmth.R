# Responses to warmth of twelve sites of one burial each, without known errors: R 4.2 stats::lm. Rscript warmth.R
options(digits = 12); set.seed(5)
T <- c(2.1,4.5,6.3,8.8,10.2,11.9,13.4,15.0,17.7,19.2,21.5,24.3); m <- c(.31,.22,.4,.28,.18,.35,.26,.42,.2,.33,.15,.24)
k <- round(0.008 * 2.1^((T-10)/10) * exp(1.5*(m-.28) + rnorm(12, 0, .1)), 5)
cat("k:", k, "\n")
of <- function(what, x, moisture = NULL, times = 1) {
  f <- if (is.null(moisture)) lm(log(k) ~ x) else lm(log(k) ~ x + moisture)
  cat(what, times * c(coef(f)[2], confint(f)[2, ]), "AIC", AIC(f), "R2", summary(f)$r.squared, "\n"); invisible(f)
}
q <- (T - 10) / 10; a <- (1/283.15 - 1/(T+273.15)) / 8.314462618e-3; l <- 1/56.02 - 1/(T+46.02); c <- m - mean(m)
of("ln Q10", q); of("ln Q10, moisture linear", q, c); of("ln Q10, moisture quadratic", q, cbind(c, c^2))
of("E", a); f <- of("E0", l)
cat("k at 20:", exp(predict(f, data.frame(x = 1/56.02 - 1/66.02), interval = "confidence")), "\n")
cat("ln k ratio 20 over 10 by E:", (1/283.15 - 1/293.15) / 8.314462618e-3, "times E; by E0:", 1/56.02 - 1/66.02, "times E0\n")
