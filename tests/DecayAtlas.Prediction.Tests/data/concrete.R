# Scores of R's ranger and of scikit-learn on the folds that the test uses. Data: Concrete Compressive Strength (Yeh 1998, Cement and
# Concrete Research 28:1797-1808; UCI Machine Learning Repository, CC BY 4.0), as carried by R's package modeldata 1.1.0 (MIT; Debian
# r-cran-modeldata). Duplicated mixtures share a fold. Run in this folder: Rscript concrete.R > concrete-reference.txt
suppressMessages(library(ranger))
data(concrete, package = "modeldata")
d <- as.data.frame(concrete)
mixture <- do.call(paste, d[, 1:7])
group <- match(mixture, unique(mixture))
d$fold <- (group * 7919) %% 5
write.csv(d, "concrete.csv", row.names = FALSE, quote = FALSE)
score <- function(p) c(sqrt(mean((p - d$compressive_strength)^2)), 1 - sum((p - d$compressive_strength)^2) / sum((d$compressive_strength - mean(d$compressive_strength))^2))
x <- setdiff(names(d), c("compressive_strength", "fold"))
for (seed in 1:5) {
  p <- numeric(nrow(d))
  for (f in 0:4) {
    tr <- d$fold != f
    m <- ranger(x = d[tr, x], y = d$compressive_strength[tr], num.trees = 200, mtry = 6, min.node.size = 2, seed = seed, num.threads = 1)
    p[!tr] <- predict(m, d[!tr, x], num.threads = 1)$predictions
  }
  cat("ranger", seed, sprintf("%.6g", score(p)), "\n")
}
