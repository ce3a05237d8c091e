# Reference numbers for the tests of the joint mixed model: R 4.2.2 with lme4 1.1-31, lmerTest 3.1-3, metafor 3.8-1, nlme 3.1-162 (Debian).
# Run: Rscript joint-models.R    writes joint-models-data.csv and joint-models-reference.csv beside itself (some minutes).
suppressMessages({library(lme4); library(lmerTest); library(metafor)})
options(digits = 15)
set.seed(20260411)
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6), check.conv.singular = "ignore", calc.derivs = TRUE)
ref <- list()
note <- function(set, model, quantity, value)
  ref[[length(ref) + 1]] <<- data.frame(set, model, quantity, value = format(as.numeric(value), digits = 13))

# sites crossed with lots, plots within sites; errors of each burial's weighings; one shared quantity of each lot
make <- function(name, sites, lots, burials, sdSite, sdPlot, sdLot, sdRes, rho, missing) {
  pair <- function(n, sd) { z <- matrix(rnorm(2 * n), n); cbind(z[, 1], rho * z[, 1] + sqrt(1 - rho^2) * z[, 2]) %*% diag(sd) }
  site <- rep(seq_len(sites), sample(burials, sites, TRUE)); n <- length(site)
  lot <- sample(lots, n, TRUE); plot <- paste0("s", site, "p", sample(2, n, TRUE))
  group <- sample(c("a", "b", "c"), sites, TRUE, c(.4, .35, .25))[site]; x <- round(runif(sites, 5, 20), 2)[site]
  u <- pair(sites, sdSite); p <- pair(length(unique(plot)), sdPlot); l <- pair(lots, sdLot); e <- pair(n, sdRes)
  s1 <- round(runif(n, 0.05, 0.20), 3); s2 <- round(runif(n, 0.02, 0.06), 3); r <- round(runif(n, -0.6, 0.2), 2)
  c1 <- round(runif(n, 0.08, 0.14), 3); c2 <- round(runif(n, -0.05, -0.02), 3); q <- rnorm(lots)
  z1 <- rnorm(n); z2 <- rnorm(n)
  pl <- as.integer(factor(plot))
  y1 <- -4.5 + 0.02 * x + 0.3 * (group == "b") + u[site, 1] + p[pl, 1] + l[lot, 1] + e[, 1]
  y2 <- 0.25 - 0.004 * x + 0.05 * (group == "c") + u[site, 2] + p[pl, 2] + l[lot, 2] + e[, 2]
  k1 <- y1 + s1 * z1 + c1 * q[lot]; k2 <- y2 + s2 * (r * z1 + sqrt(1 - r^2) * z2) + c2 * q[lot]
  has2 <- runif(n) >= missing
  data.frame(set = name, site = paste0("s", site), plot, lot = paste0("l", lot), group, x, y1 = round(y1, 6), k1 = round(k1, 6),
    k2 = ifelse(has2, round(k2, 6), NA), v1 = round(s1^2, 7), v12 = round(r * s1 * s2, 7), v2 = round(s2^2, 7), c1, c2, y2 = round(y2, 6))
}
names10 <- c("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
data <- do.call(rbind, lapply(seq_along(names10), function(i) make(names10[i], sites = c(12, 14, 16, 18, 20, 22, 15, 17, 19, 24)[i],
  lots = c(4, 5, 6, 7, 8, 4, 5, 6, 7, 8)[i], burials = 2:c(6, 5, 7, 6, 5, 4, 8, 6, 5, 4)[i],
  sdSite = c(0.4, 0.06), sdPlot = c(0.2, 0.04) * (i %% 3 != 0), sdLot = c(0.15, 0.03), sdRes = c(0.25, 0.05),
  rho = c(-.5, .3, 0, -.7, .5, -.2, .6, -.4, .1, -.3)[i], missing = c(0, .1, .2, 0, .1, 0, .2, .1, 0, .1)[i])))
write.csv(data, "joint-models-data.csv", row.names = FALSE, quote = FALSE, na = "")

# metafor's usual search, then one that ends at 1e-10 from where that stopped
fine <- function(...) {
  once <- rma.mv(..., control = list(optimizer = "nlminb"))
  rma.mv(..., control = list(optimizer = "bobyqa", rhobeg = 0.05, rhoend = 1e-10, maxfun = 1e5, tau2.init = pmax(once$tau2, 1e-4),
    rho.init = max(min(once$rho, .99), -.99), gamma2.init = pmax(once$gamma2, 1e-4), phi.init = max(min(once$phi, .99), -.99)))
}
for (name in names10) {
  d <- data[data$set == name, ]; d$group <- factor(d$group)
  # 1. no known errors: lme4
  f <- lmerTest::lmer(y1 ~ group + x + (1 | site) + (1 | lot) + (1 | plot), d, control = control)
  v <- as.data.frame(VarCorr(f)); for (i in seq_len(nrow(v))) note(name, "lme4", paste0("var.", v$grp[i]), v$vcov[i])
  note(name, "lme4", "reml", REMLcrit(f))
  s <- coef(summary(f, ddf = "Satterthwaite"))
  for (r in rownames(s)) { note(name, "lme4", paste0("est.", r), s[r, 1]); note(name, "lme4", paste0("se.", r), s[r, 2]); note(name, "lme4", paste0("df.", r), s[r, 3]) }
  # best linear unbiased prediction of X b + u of the first sites, and its error variance, by the whole matrices (Henderson 1975)
  X <- model.matrix(~ group + x, d); y <- d$y1; g <- setNames(v$vcov, v$grp)
  Zs <- model.matrix(~ 0 + site, d); V <- diag(g["Residual"], nrow(d)) + g["site"] * tcrossprod(Zs) +
    g["lot"] * tcrossprod(model.matrix(~ 0 + lot, d)) + g["plot"] * tcrossprod(model.matrix(~ 0 + plot, d))
  W <- solve(V); C <- solve(t(X) %*% W %*% X); b <- C %*% t(X) %*% W %*% y
  for (site in unique(d$site)[1:4]) {
    k <- g["site"] * (d$site == site); x0 <- colMeans(X[d$site == site, , drop = FALSE])
    w <- x0 - t(X) %*% W %*% k
    note(name, "lme4", paste0("value.", site), sum(x0 * b) + t(k) %*% W %*% (y - X %*% b))
    note(name, "lme4", paste0("pev.", site), g["site"] - t(k) %*% W %*% k + t(w) %*% C %*% w)
  }
  # profile of the REML criterion in the variance of sites, in units of sigma: share-free, so over theta and sigma
  if (name %in% names10[1:4]) {
    m <- lme4::lmer(y1 ~ group + x + (1 | site) + (1 | lot), d, control = control)
    Zl <- model.matrix(~ 0 + lot, d); S <- tcrossprod(Zs); L <- tcrossprod(Zl); df <- nrow(d) - ncol(X)
    crit <- function(vs, vl, ve) { V <- vs * S + vl * L + diag(ve, nrow(d)); R <- chol(V); A <- backsolve(R, X, transpose = TRUE); z <- backsolve(R, y, transpose = TRUE)
      q <- qr(A); 2 * sum(log(diag(R))) + 2 * sum(log(abs(diag(qr.R(q))))) + sum(qr.resid(q, z)^2) + df * log(2 * pi) }
    least <- REMLcrit(m); v <- as.data.frame(VarCorr(m)); at <- log(v$vcov[match(c("lot", "Residual"), v$grp)]); vs <- v$vcov[v$grp == "site"]
    tight <- list(rel.tol = 1e-14, x.tol = 1e-12)
    rise <- function(t) nlminb(at, function(p) crit(t^2, exp(p[1]), exp(p[2])), control = tight)$objective - least - qchisq(.95, 1)
    share <- function(r) nlminb(at, function(p) crit(r / (1 - r) * sum(exp(p)), exp(p[1]), exp(p[2])), control = tight)$objective - least - qchisq(.95, 1)
    note(name, "profile", "var.lower", uniroot(rise, c(1e-4, sqrt(vs)), tol = 1e-10)$root^2)
    note(name, "profile", "var.upper", uniroot(rise, c(sqrt(vs), 3), tol = 1e-10)$root^2)
    rho <- vs / sum(v$vcov)
    note(name, "profile", "share.lower", uniroot(share, c(1e-6, rho), tol = 1e-10)$root)
    note(name, "profile", "share.upper", uniroot(share, c(rho, 1 - 1e-6), tol = 1e-10)$root)
  }
  # 2. two outcomes with known errors, one of them shared by the burials of a lot: metafor
  n <- nrow(d); d$burial <- seq_len(n)
  long <- rbind(cbind(d, outcome = "k", y = d$k1, c = d$c1), cbind(d, outcome = "s", y = d$k2, c = d$c2))
  K <- rbind(cbind(diag(d$v1), diag(d$v12)), cbind(diag(d$v12), diag(d$v2))) + outer(long$lot, long$lot, "==") * tcrossprod(long$c)
  has <- !is.na(long$y); long <- long[has, ]; K <- K[has, has]; long$outcome <- factor(long$outcome)
  fit <- fine(long$y, K, mods = ~ 0 + outcome + outcome:group + outcome:x, random = list(~ outcome | site, ~ outcome | burial),
    struct = c("UN", "UN"), data = long, method = "REML")
  note(name, "metafor", "site.k", fit$tau2[1]); note(name, "metafor", "site.s", fit$tau2[2])
  note(name, "metafor", "site.cross", fit$rho * sqrt(prod(fit$tau2)))
  note(name, "metafor", "res.k", fit$gamma2[1]); note(name, "metafor", "res.s", fit$gamma2[2])
  note(name, "metafor", "res.cross", fit$phi * sqrt(prod(fit$gamma2)))
  b <- coef(fit); se <- fit$se; for (i in seq_along(b)) { note(name, "metafor", paste0("est.", names(b)[i]), b[i]); note(name, "metafor", paste0("se.", names(b)[i]), se[i]) }
  # metafor's likelihood has log|X'X|/2 more
  note(name, "metafor", "reml", -2 * as.numeric(logLik(fit)) + as.numeric(determinant(crossprod(model.matrix(fit)))$modulus))
  cat(name, "metafor done\n")
  # 3. two outcomes without known errors, unequal and correlated residuals: nlme
  e <- rbind(cbind(d, outcome = "k", y = d$y1), cbind(d, outcome = "s", y = ifelse(is.na(d$k2), NA, d$y2))); e <- e[!is.na(e$y), ]; e$outcome <- factor(e$outcome)
  e <- e[order(e$site, e$burial, e$outcome), ]; e$place <- as.integer(e$outcome); e$id <- factor(paste(e$site, e$burial))
  h <- try(nlme::lme(y ~ 0 + outcome + outcome:x, data = e, random = list(site = nlme::pdLogChol(~ 0 + outcome)), method = "REML",
    correlation = nlme::corSymm(form = ~ place | site/id), weights = nlme::varIdent(form = ~ 1 | outcome),
    control = nlme::lmeControl(opt = "nlminb", maxIter = 500, msMaxIter = 1000, tolerance = 1e-12, msTol = 1e-14, niterEM = 50, returnObject = TRUE)), silent = TRUE)
  if (!inherits(h, "try-error")) {
    G <- unclass(nlme::getVarCov(h)); note(name, "nlme", "site.k", G[1, 1]); note(name, "nlme", "site.s", G[2, 2]); note(name, "nlme", "site.cross", G[1, 2])
    w <- coef(h$modelStruct$varStruct, unconstrained = FALSE, allCoef = TRUE)[c("k", "s")] * h$sigma; r <- as.numeric(coef(h$modelStruct$corStruct, unconstrained = FALSE))
    note(name, "nlme", "res.k", w[1]^2); note(name, "nlme", "res.s", w[2]^2); note(name, "nlme", "res.cross", r * prod(w))
    note(name, "nlme", "reml", -2 * as.numeric(logLik(h)))
  } else cat(name, "nlme did not settle\n")
}
write.csv(do.call(rbind, ref), "joint-models-reference.csv", row.names = FALSE, quote = FALSE)
