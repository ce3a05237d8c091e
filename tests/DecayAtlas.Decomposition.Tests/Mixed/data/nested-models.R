# Reference numbers for nested units, plans and many comparisons: R 4.2, lme4 1.1-31, lmerTest 3.1-3 (Debian r-cran-lme4, r-cran-lmertest).
# Run: Rscript nested-models.R    writes nested-models-data.csv and nested-models-reference.csv beside itself.
suppressMessages({library(lme4); library(lmerTest)})
set.seed(20250301)
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6),
                       check.conv.singular = "ignore", calc.derivs = TRUE)
options(digits = 15)

make <- function(name, ecosystems, sites, plots, burials, sdE, sdS, sdP, sdB, groupEffect = 0, slope = 0) {
  rows <- list()
  for (e in seq_len(ecosystems)) {
    uE <- rnorm(1, 0, sdE)
    for (s in seq_len(sample(sites, 1))) {
      uS <- rnorm(1, 0, sdS); group <- sample(c("a", "b", "c"), 1, prob = c(.4, .35, .25)); x <- round(runif(1, 5, 20), 2)
      for (p in seq_len(sample(plots, 1))) {
        uP <- rnorm(1, 0, sdP)
        n <- sample(burials, 1)
        y <- -4.5 + uE + uS + uP + rnorm(n, 0, sdB) + slope * x + groupEffect * (group == "b")
        rows[[length(rows) + 1]] <- data.frame(set = name, ecosystem = paste0("e", e), site = paste0("e", e, "s", s),
          plot = paste0("e", e, "s", s, "p", p), group = group, x = x, y = round(y, 6))
      }
    }
  }
  do.call(rbind, rows)
}

data <- rbind(
  make("one",   12, 3:5, 1:2, 1:5, 0.40, 0.30, 0.00, 0.25),
  make("two",    8, 2:6, 1:3, 1:4, 0.30, 0.35, 0.20, 0.15, 0.5, 0.03),
  make("three", 15, 1:4, 1:3, 2:3, 0.60, 0.10, 0.30, 0.30, -0.3, 0.02),
  make("four",   6, 3:8, 2:3, 1:6, 0.20, 0.25, 0.15, 0.40, 0.4, 0.00),
  make("five",  20, 1:3, 1:4, 1:3, 0.00, 0.50, 0.10, 0.20, 0.2, 0.05),
  make("six",    5, 4:4, 1:2, 2:5, 0.00, 0.02, 0.00, 0.50, 0.0, 0.00))   # variance estimates at zero
write.csv(data, "nested-models-data.csv", row.names = FALSE, quote = FALSE)

ref <- list()
note <- function(set, model, quantity, value) ref[[length(ref) + 1]] <<- data.frame(set, model, quantity, value = format(value, digits = 12))
for (name in unique(data$set)) {
  d <- data[data$set == name, ]; d$group <- factor(d$group)
  one <- lme4::lmer(y ~ 1 + (1 | site), d, control = control)
  nested <- lme4::lmer(y ~ 1 + (1 | ecosystem) + (1 | site) + (1 | plot), d, control = control)
  for (m in c("one", "nested")) {
    f <- get(m)
    v <- as.data.frame(VarCorr(f))
    for (i in seq_len(nrow(v))) note(name, m, paste0("var.", v$grp[i]), v$vcov[i])
    note(name, m, "mean", fixef(f)[[1]]); note(name, m, "se.mean", sqrt(vcov(f)[1, 1])); note(name, m, "reml", REMLcrit(f))
  }
  if (name != "six") {
    # shares at which the profiled REML deviance lies 3.841 above its minimum; share = theta^2/(1 + theta^2)
    dev <- lme4::lmer(y ~ 1 + (1 | site), d, control = control, devFunOnly = TRUE); th <- getME(one, "theta")[[1]]
    lo <- uniroot(function(t) dev(t) - dev(th) - qchisq(.95, 1), c(0, th), tol = 1e-12)$root
    hi <- uniroot(function(t) dev(t) - dev(th) - qchisq(.95, 1), c(th, 50), tol = 1e-12)$root
    note(name, "one", "share.lower", lo^2 / (1 + lo^2)); note(name, "one", "share.upper", hi^2 / (1 + hi^2))
    # the same for the site's share in site / plot, the other variance fitted anew
    if (name %in% c("two", "four", "five")) {
      two <- lme4::lmer(y ~ 1 + (1 | site) + (1 | plot), d, control = control)
      dev2 <- lme4::lmer(y ~ 1 + (1 | site) + (1 | plot), d, control = control, devFunOnly = TRUE)
      # devfun's theta follows the factors by number of units: plot first, site second
      least <- dev2(getME(two, "theta")); lam <- getME(two, "theta")^2; share <- lam[2] / (1 + sum(lam))
      prof <- function(rho) optimize(function(l) dev2(sqrt(c(l, rho / (1 - rho) * (1 + l)))), c(0, 30), tol = 1e-10)$objective - least - qchisq(.95, 1)
      note(name, "two-level", "share.site", share)
      note(name, "two-level", "share.lower", uniroot(prof, c(1e-9, share), tol = 1e-10)$root)
      note(name, "two-level", "share.upper", uniroot(prof, c(share, 1 - 1e-6), tol = 1e-10)$root)
    }
  }
  compare <- lmerTest::lmer(y ~ group + x + (1 | site), d, control = control)
  s <- coef(summary(compare, ddf = "Satterthwaite"))
  for (r in rownames(s)) { note(name, "compare", paste0("est.", r), s[r, 1]); note(name, "compare", paste0("se.", r), s[r, 2]); note(name, "compare", paste0("df.", r), s[r, 3]); note(name, "compare", paste0("p.", r), s[r, 5]) }
  cb <- lmerTest::contest1D(compare, c(0, -1, 1, 0), ddf = "Satterthwaite")
  note(name, "compare", "est.c-b", cb[["Estimate"]]); note(name, "compare", "se.c-b", cb[["Std. Error"]]); note(name, "compare", "df.c-b", cb[["df"]])
  note(name, "compare", "reml", REMLcrit(compare))
}
write.csv(do.call(rbind, ref), "nested-models-reference.csv", row.names = FALSE, quote = FALSE)
# planning: stats::power.t.test
p <- function(...) format(power.t.test(...)$power, digits = 12)
cat("power n=64 d=.5", p(n = 64, delta = .5), " n=10 d=1", p(n = 10, delta = 1), " n=3 d=2", p(n = 3, delta = 2), " n=20 d=.8 sig .01", p(n = 20, delta = .8, sig.level = .01), "\n")
cat("pt noncentral", format(c(pt(2, 10, 1), pt(1, 3, 2.5), pt(-0.5, 5, 1), pt(3, 30, 4)), digits = 12), "\n")
cat("n for d=.5 power .8:", power.t.test(delta = .5, power = .8)$n, " d=1, .9:", power.t.test(delta = 1, power = .9)$n, "\n")
cat("holm", p.adjust(c(0.01, 0.02, 0.03, 0.04, 0.05), "holm"), p.adjust(c(.04, .001, .3, .02), "holm"), "\n")
