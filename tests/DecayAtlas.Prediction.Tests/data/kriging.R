# Reference numbers for universal kriging: R's nlme (GPL-2 or later) and gstat (GPL-2 or later) on the soils of meuse.csv: ln of zinc on
# distance to the river and elevation, exponential covariance of the chord. The places are x and y of that file taken for degrees by the
# rule below, which is no projection: any places do. Run in this folder: Rscript kriging.R > kriging.txt
suppressMessages({library(sp); library(gstat); library(nlme)})
d <- read.csv("meuse.csv")
lon <- 5.75 + (d$x - 180000) / 70000; lat <- 50.97 + (d$y - 331000) / 111000
axes <- function(lat, lon) { a <- lat * pi / 180; o <- lon * pi / 180; 6371008.8 * cbind(cos(a) * cos(o), cos(a) * sin(o), sin(a)) }
e <- axes(lat, lon); d$X <- e[, 1]; d$Y <- e[, 2]; d$Z <- e[, 3]
put <- function(name, v) cat(name, sprintf("%.12g", v), "\n")

# 1. at a given range and share of nugget: variance, likelihood, coefficients (nlme::gls)
g <- gls(ln_zinc ~ dist + elev, d, corExp(c(400, 0.2), form = ~ X + Y + Z, nugget = TRUE, fixed = TRUE), method = "REML")
put("gls", c(400, g$sigma^2 * 0.8, g$sigma^2 * 0.2, as.numeric(logLik(g)), coef(g)))

# 2. the most likely ones
g <- gls(ln_zinc ~ dist + elev, d, corExp(c(400, 0.2), form = ~ X + Y + Z, nugget = TRUE), method = "REML",
  control = glsControl(msTol = 1e-10, tolerance = 1e-10, opt = "optim", msMaxIter = 500))
p <- coef(g$modelStruct$corStruct, unconstrained = FALSE)
put("reml", c(p[1], g$sigma^2 * (1 - p[2]), g$sigma^2 * p[2], as.numeric(logLik(g)), coef(g)))

# 3. predictions at places between, and far away, where the field has faded (gstat)
n <- data.frame(lon = c(5.77, 5.76, 5.74, 5.80, 9), lat = c(50.985, 50.99, 50.98, 51, 40), dist = c(0.1, 0.3, 0.5, 0.2, 0.2),
  elev = c(7, 8, 9, 8, 8))
f <- axes(n$lat, n$lon); n$X <- f[, 1]; n$Y <- f[, 2]; n$Z <- f[, 3]
v <- vgm(0.15, "Exp", 400, 0.05)
coordinates(d) <- ~ X + Y + Z; k <- n; coordinates(k) <- ~ X + Y + Z
invisible(capture.output(o <- krige(ln_zinc ~ dist + elev, d, k, v)))
for (i in 1:nrow(n)) put("krige", c(n$lat[i], n$lon[i], n$dist[i], n$elev[i], o$var1.pred[i]))

# 4. two rows a site, errors of rows that are known, two errors that rows share (their mean), shrunk slopes: the formulas written out, all rows by all rows
d <- as.data.frame(d); s <- (seq_len(nrow(d)) - 1) %/% 2; first <- 2 * s + 1
D <- as.matrix(dist(e))[first, first]
own <- 0.01 * (1 + (seq_len(nrow(d)) - 1) %% 3)
x <- cbind(d$dist, d$elev, d$dist^2); x <- scale(x); y <- d$ln_zinc
i <- seq_len(nrow(d)) - 1; b <- i %/% 5 %% 2 == 0
u <- cbind(b * mean((0.10 + 0.01 * (i %% 4))[b]), mean(0.05 - 0.02 * (i %% 3)))
V <- tcrossprod(u) + 0.12 * exp(-D / 300) + 0.03 * outer(s, s, "==") + diag(0.02 + own) + 0.4 * tcrossprod(x)
W <- solve(V); b <- sum(W %*% y) / sum(W); r <- y - b
l <- -0.5 * ((length(y) - 1) * log(2 * pi) + as.numeric(determinant(V)$modulus) + log(sum(W)) + drop(t(r) %*% W %*% r))
q <- exp(-sqrt(rowSums(sweep(e[first, ], 2, f[1, ])^2)) / 300)
put("sites", c(l, b, 0.4 * t(x) %*% W %*% r, 0.12 * q %*% W %*% r, mean(tcrossprod(u) %*% W %*% r)))
