# Reference numbers for records in no unit of a factor: R 4.2.2, lme4 1.1-31 (Debian). Lots move only the burials above 12 of x, as what a
# noted burial has besides: a term that is 0 for all others. Run: Rscript missing-units.R   reads joint-models-data.csv beside itself.
suppressMessages(library(lme4))
options(digits = 15)
data <- read.csv("joint-models-data.csv")
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-12, maxfun = 1e6), check.conv.singular = "ignore", calc.derivs = FALSE)
ref <- do.call(rbind, lapply(unique(data$set), function(set) {
  d <- data[data$set == set, ]; d$noted <- as.numeric(d$x > 12)
  f <- lmer(y1 ~ group + (1 | site) + (0 + noted | lot), d, control = control)
  v <- as.data.frame(VarCorr(f)); b <- fixef(f)
  data.frame(set, quantity = c(paste0("var.", v$grp), "reml", paste0("est.", names(b)), paste0("se.", names(b))),
    value = trimws(format(c(v$vcov, REMLcrit(f), b, sqrt(diag(as.matrix(vcov(f))))), digits = 13)))
}))
write.csv(ref, "missing-units-reference.csv", row.names = FALSE, quote = FALSE)
