# Classes as covariates, on the soils of meuse.csv: ln of zinc on elevation, the frequency of floods (ffreq) and the soil (soil), both of
# three classes; row i weighs 1 + i mod 3. Run in this folder: Rscript classes.R > classes.txt
# Lines: what lm predicts by R's own contrasts (a first class that others are set against); effects by sum contrasts of lm, less their mean
# over the rows; ridge with a column for each class by its formula; generalised variance inflation of car::vif, squared by its degree of
# freedom; the first canonical correlation of the two classes.
d <- read.csv("meuse.csv"); d$ffreq <- factor(d$ffreq); d$soil <- factor(d$soil)
w <- 1 + (seq_len(nrow(d)) - 1) %% 3; w <- w / sum(w)
f <- lm(ln_zinc ~ elev + ffreq + soil, data = d, weights = w)
cat("lm", sprintf("%.10g", fitted(f)), "\n")
e <- sapply(levels(d$soil), function(k) { n <- d; n$soil <- factor(k, levels(d$soil)); mean(predict(f, n)) })
cat("soil", sprintf("%.10g", e - sum(e * table(d$soil)) / nrow(d)), "\n")
x <- cbind(d$elev, model.matrix(~ ffreq - 1, d), model.matrix(~ soil - 1, d)); y <- d$ln_zinc
m <- colSums(w * x); s <- sqrt(colSums(w * sweep(x, 2, m)^2)); z <- sweep(sweep(x, 2, m), 2, s, "/")
for (penalty in c(0.1, 0.001)) {
  b <- solve(t(z) %*% (w * z) + penalty * diag(ncol(z)), t(z) %*% (w * (y - sum(w * y)))) / s
  cat("ridge", penalty, sprintf("%.10g", c(b, sum(w * y) - sum(b * m))), "\n")
}
v <- car::vif(lm(ln_zinc ~ elev + ffreq + soil, data = d))
cat("vif", sprintf("%.10g", v[, "GVIF"]^(1 / v[, "Df"])), "\n")
cat("canonical", sprintf("%.10g", cancor(model.matrix(~ ffreq - 1, d)[, 1:2], model.matrix(~ soil - 1, d)[, 1:2])$cor[1]),
    sprintf("%.10g", sqrt(summary(lm(elev ~ soil, d))$r.squared)), "\n")
