# Scores of R's ranger on the folds that the test uses. Data: meuse of R's package sp 1.6-0 (GPL >= 2; Debian r-cran-sp): zinc in the
# topsoil of the Meuse flood plain (Rikken and Van Rijn 1993). Run in this folder: Rscript meuse.R > meuse-reference.txt
suppressMessages({library(sp); library(ranger)})
data(meuse)
d <- meuse[, c("x", "y", "elev", "dist", "ffreq", "soil")]
d$ffreq <- as.integer(d$ffreq)
d$soil <- as.integer(d$soil)
d$ln_zinc <- log(meuse$zinc)
d$fold <- (seq_len(nrow(d)) * 7919) %% 5
write.csv(d, "meuse.csv", row.names = FALSE, quote = FALSE)
x <- setdiff(names(d), c("ln_zinc", "fold"))
for (seed in 1:5) {
  p <- numeric(nrow(d))
  for (f in 0:4) {
    tr <- d$fold != f
    m <- ranger(x = d[tr, x], y = d$ln_zinc[tr], num.trees = 200, mtry = 4, min.node.size = 2, seed = seed, num.threads = 1)
    p[!tr] <- predict(m, d[!tr, x], num.threads = 1)$predictions
  }
  cat("ranger", seed, sprintf("%.6g", sqrt(mean((p - d$ln_zinc)^2))), "\n")
}
