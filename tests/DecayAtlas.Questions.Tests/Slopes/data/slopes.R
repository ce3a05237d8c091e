# A small release of six campaigns, sites joining and leaving, and its slopes by lmerTest and pbkrtest (Kenward and Roger; lme4 1.1). Rscript slopes.R
suppressMessages(library(lmerTest))
set.seed(31)
rows <- list()
season <- rnorm(6, 0, .12)
for (s in 1:18) {
  u <- rnorm(1, 0, .3); clay <- round(runif(1, 5, 45), 1); first <- sample(6, 1)
  for (c in seq(first, min(6, first + sample(0:3, 1)))) {
    v <- rnorm(1, 0, .12); n <- sample(2:6, 1)
    buried <- as.Date(sprintf("%d-04-01", 2017 + c)) + sample(0:120, 1)
    retrieved <- buried + sample(80:100, 1); rich <- round(120 + 40 * u + rnorm(1, 0, 25))
    t <- (as.numeric(buried) + as.numeric(retrieved)) / 2 / 365.25
    rows[[length(rows) + 1]] <- data.frame(site = sprintf("s%02d", s), campaign = paste0("c", c), buried, retrieved, clay, rich, t,
      ln_k = round(-4.5 + u + season[c] + v - .01 * clay + .06 * c + rnorm(n, 0, .2), 5))
  }
}
d <- do.call(rbind, rows)
write.csv(d[, c("site", "campaign", "buried", "retrieved", "clay", "rich", "ln_k")], "slopes-data.csv", row.names = FALSE, quote = FALSE)
d$cell <- paste(d$site, d$campaign); d$t <- d$t - mean(d$t); d$mean_t <- ave(d$t, d$site); d$within_t <- d$t - d$mean_t
control <- lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-9, maxfun = 1e5), calc.derivs = FALSE)
of <- function(what, formula, term) {
  m <- lmer(formula, d, control = control); e <- coef(summary(m, ddf = "Kenward-Roger"))[term, ]
  cat(what, as.data.frame(VarCorr(m))$vcov, "\n")
  data.frame(what, slope = sprintf("%.9f", e[1]), error = sprintf("%.9f", e[2]), df = sprintf("%.5f", e[3]))
}
r <- rbind(
  of("trend", ln_k ~ t + (1 | site) + (1 | campaign) + (1 | cell), "t"),
  of("trend with clay", ln_k ~ t + clay + (1 | site) + (1 | campaign) + (1 | cell), "t"),
  of("within sites", ln_k ~ within_t + mean_t + (1 | site) + (1 | campaign) + (1 | cell), "within_t"),
  of("between sites", ln_k ~ within_t + mean_t + (1 | site) + (1 | campaign) + (1 | cell), "mean_t"),
  of("clay", ln_k ~ clay + campaign + (1 | site) + (1 | cell), "clay"),
  of("richness with clay", ln_k ~ rich + clay + campaign + (1 | site) + (1 | cell), "rich"))
cat("sites", length(unique(d$site)), "again", sum(tapply(d$campaign, d$site, function(c) length(unique(c))) > 1),
  "sd of site means: clay", sd(tapply(d$clay, d$site, mean)), "rich", sd(tapply(d$rich, d$site, mean)), "\n")
print(r)
write.csv(r, "slopes-reference.csv", row.names = FALSE, quote = FALSE)
