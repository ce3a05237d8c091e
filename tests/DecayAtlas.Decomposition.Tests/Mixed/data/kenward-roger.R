# Reference numbers for effects by Kenward and Roger: R 4.2.2, lme4 1.1-31, lmerTest 3.1-3, pbkrtest 0.5.2 (Debian).
# Run: Rscript kenward-roger.R    reads joint-models-data.csv and nested-models-data.csv beside itself, writes kenward-roger-reference.csv.
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
write.csv(do.call(rbind, ref), "kenward-roger-reference.csv", row.names = FALSE, quote = FALSE)
