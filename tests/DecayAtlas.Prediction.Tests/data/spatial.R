# Reference numbers for Moran's I and variance inflation, from the data set quakes of R's package datasets (Harvard PRIM-H project;
# distributed with R under GPL-2 | GPL-3): the first 120 rows. Run in this folder: Rscript spatial.R > spatial.txt
suppressMessages({library(spdep)})
q <- quakes[1:120, ]
q$long <- ifelse(q$long > 180, q$long - 360, q$long)
write.csv(q, "quakes.csv", row.names = FALSE, quote = FALSE)
xy <- as.matrix(q[, c("long", "lat")])
for (k in c(4, 8)) {
  w <- nb2listw(knn2nb(knearneigh(xy, k = k, longlat = TRUE)), style = "W")
  for (v in c("mag", "depth")) {
    m <- moran.test(q[[v]], w, randomisation = TRUE, alternative = "two.sided")
    cat(k, v, sprintf("%.12g", c(m$estimate[1], m$estimate[2], sqrt(m$estimate[3]), m$p.value)), "\n")
  }
}
x <- q[, c("lat", "long", "depth", "mag", "stations")]
cat("vif", sprintf("%.12g", diag(solve(cor(x)))), "\n")
cat("r", sprintf("%.12g", cor(q$mag, q$stations)), "\n")
