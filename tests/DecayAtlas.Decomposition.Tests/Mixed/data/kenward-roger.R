# Reference numbers for effects by Kenward and Roger: R 4.2.2, lme4 1.1-31, lmerTest 3.1-3, pbkrtest 0.5.2 (Debian).
# Run: Rscript kenward-roger.R    reads joint-models-data.csv and nested-models-data.csv beside itself, writes few-units-data.csv
# and kenward-roger-reference.csv.
suppressMessages({library(lme4); library(lmerTest); library(pbkrtest)})
options(digits = 15)
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6), check.conv.singular = "ignore", calc.derivs = TRUE)
ref <- list()
note <- function(set, model, effect, fit, contrast) {
  r <- lmerTest::contest1D(fit, contrast, ddf = "Kenward-Roger")
  ref[[length(ref) + 1]] <<- data.frame(set, model, effect, se = format(r[["Std. Error"]], digits = 13), df = format(r[["df"]], digits = 13),
    p = format(r[["Pr(>|t|)"]], digits = 13))
}
crossed <- read.csv("joint-models-data.csv"); nested <- read.csv("nested-models-data.csv")
for (set in unique(crossed$set)) {
  d <- crossed[crossed$set == set, ]; d$group <- factor(d$group)
  f <- lmerTest::lmer(y1 ~ group + x + (1 | site) + (1 | lot) + (1 | plot), d, control = control)
  for (i in 1:4) note(set, "crossed", names(fixef(f))[i], f, as.numeric(1:4 == i))
}
for (set in unique(nested$set)) {
  d <- nested[nested$set == set, ]; d$group <- factor(d$group)
  f <- lmerTest::lmer(y ~ group + x + (1 | site), d, control = control)
  for (i in 2:4) note(set, "compare", names(fixef(f))[i], f, as.numeric(1:4 == i))
  note(set, "compare", "c-b", f, c(0, -1, 1, 0))
}
# few units behind an effect, many burials (numbers invented): a treatment at two sites, and a change over five seasons at twenty sites
set.seed(20261128)
plots <- expand.grid(burial = 1:100, treatment = c("none", "warmed"), site = c("s1", "s2"))
plots$cell <- paste(plots$site, plots$treatment)
plots$y <- round(-4.5 + rnorm(2, 0, .3)[as.integer(factor(plots$site))] + rnorm(4, 0, .2)[as.integer(factor(plots$cell))] + rnorm(400, 0, .2), 5)
seasons <- expand.grid(burial = 1:4, season = 1:5, site = sprintf("s%02d", 1:20))
seasons$cell <- paste(seasons$site, seasons$season); cell <- as.integer(factor(seasons$cell))
seasons$y <- round(-4.5 + .05 * seasons$season + rnorm(5, 0, .1)[seasons$season] + rnorm(20, 0, .3)[as.integer(factor(seasons$site))] +
  rnorm(100, 0, .1)[cell] + rnorm(400, 0, .2), 5)
f <- lmerTest::lmer(y ~ treatment + (1 | site) + (1 | cell), plots, control = control)
note("few", "treatment", "treatment", f, c(0, 1))
f <- lmerTest::lmer(y ~ season + (1 | site) + (1 | season) + (1 | cell), seasons, control = control)
note("few", "season", "season", f, c(0, 1))
write.csv(rbind(data.frame(model = "treatment", site = plots$site, cell = plots$cell, x = as.integer(plots$treatment == "warmed"), y = plots$y),
  data.frame(model = "season", site = seasons$site, cell = seasons$cell, x = seasons$season, y = seasons$y)), "few-units-data.csv",
  row.names = FALSE, quote = FALSE)
write.csv(do.call(rbind, ref), "kenward-roger-reference.csv", row.names = FALSE, quote = FALSE)
