# A small unbalanced release, and its site values by other programs: lme4::ranef where errors are not told, and best linear unbiased
# predictions at the variances of metafor::rma.mv where bag and lot errors are known. Rscript site-values.R
suppressMessages({library(lme4); library(metafor)})
set.seed(20)
sites <- 26; rows <- list()
eco <- rnorm(6, 0, .3); camp <- rnorm(4, 0, .15); lot <- rnorm(3, 0, .1)
for (s in 1:sites) {
  e <- sample(6, 1); u <- rnorm(1, 0, .3)
  for (c in sample(4, sample(1:3, 1))) {
    v <- rnorm(1, 0, .15); l <- sample(3, 1); on <- round(.08 + .06 * runif(1), 4); u_bag <- round(.05 + .1 * runif(1), 4)
    n <- sample(c(2, 2, 3, 5, 8), 1)
    rows[[length(rows) + 1]] <- data.frame(site = sprintf("s%02d", s), ecosystem = paste0("e", e), campaign = paste0("c", c), lot = paste0("l", l),
      on_lot = on, u_bag = u_bag, ln_k = round(-4.5 + eco[e] + u + camp[c] + v + rnorm(n, 0, .25) + rnorm(n, 0, u_bag) + on * lot[l] * 10, 5))
  }
}
d <- do.call(rbind, rows)
d$cell <- paste(d$site, d$campaign); d$id <- seq_len(nrow(d))
write.csv(d[, c("site", "ecosystem", "campaign", "lot", "on_lot", "u_bag", "ln_k")], "site-values-data.csv", row.names = FALSE, quote = FALSE)
cells <- d[!duplicated(d$cell), ]

m <- lmer(ln_k ~ 1 + (1 | ecosystem) + (1 | site) + (1 | campaign) + (1 | cell), d,
  control = lmerControl(optimizer = "bobyqa", optCtrl = list(rhoend = 1e-9, maxfun = 1e5), calc.derivs = FALSE))
r <- ranef(m)
plain <- fixef(m) + r$ecosystem[cells$ecosystem, 1] + r$site[cells$site, 1] + r$campaign[cells$campaign, 1] + r$cell[cells$cell, 1]

# what a lot's error does is taken as its mean over the rows of the lot
L <- sapply(unique(d$lot), function(l) ifelse(d$lot == l, mean(cells$on_lot[cells$lot == l]), 0))
V <- diag(d$u_bag^2) + L %*% t(L)
f <- rma.mv(ln_k, V, random = list(~ 1 | ecosystem, ~ 1 | site, ~ 1 | campaign, ~ 1 | cell, ~ 1 | id), data = d, sparse = FALSE,
  control = list(optimizer = "optim", optmethod = "BFGS", reltol = 1e-14, maxit = 5000))
same <- function(a, b) outer(a, b, "==") * 1
G <- function(a, b) f$sigma2[1] * same(a$ecosystem, b$ecosystem) + f$sigma2[2] * same(a$site, b$site) +
  f$sigma2[3] * same(a$campaign, b$campaign) + f$sigma2[4] * same(a$cell, b$cell)
S <- G(d, d) + f$sigma2[5] * diag(nrow(d)) + V; Si <- solve(S); one <- rep(1, nrow(d))
w <- 1 / sum(Si); C <- G(cells, d); known <- coef(f) + C %*% Si %*% (d$ln_k - coef(f))
x <- 1 - C %*% Si %*% one
pev <- diag(G(cells, cells)) - rowSums((C %*% Si) * C) + x^2 * w
cat("lme4:", as.data.frame(VarCorr(m))$vcov, "\nmetafor:", f$sigma2, "\n")
write.csv(data.frame(site = cells$site, campaign = cells$campaign, lme4 = sprintf("%.8f", plain), metafor = sprintf("%.8f", known),
  pev = sprintf("%.8f", pev)), "site-values-reference.csv", row.names = FALSE, quote = FALSE)
