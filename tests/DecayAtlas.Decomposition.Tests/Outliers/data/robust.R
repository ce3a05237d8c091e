# Reference numbers for the outlier tests: R 4.2 robustbase 0.95-0 (covMcd), MASS (hubers), EnvStats-free.
suppressMessages({library(robustbase); library(MASS)}); options(digits=12)
data(hbk); write.csv(hbk[,1:3], "hawkins_bradu_kass.csv", row.names=FALSE, quote=FALSE)
data(starsCYG); write.csv(starsCYG, "hertzsprung_russell.csv", row.names=FALSE, quote=FALSE)
for (n in c("hbk","cyg")) { x <- if(n=="hbk") hbk[,1:3] else starsCYG
 set.seed(1); m <- covMcd(x, alpha=.5, nsamp="best", use.correction=FALSE, raw.only=FALSE)
 if(n=="hbk") m <- covMcd(x, alpha=.5, nsamp=5000, use.correction=FALSE)
 cat(n,"quan",m$quan,"crit",m$crit,"raw.center",m$raw.center,"\n raw.cov\n"); print(m$raw.cov); print(m$cnp2); print(m$raw.cnp2); print(m$center); print(m$cov); cat("raw.mah top", sort(sqrt(m$raw.mah),dec=T)[1:3], "\n"); w<-m$mcd.wt; cat("w0:", which(w==0),"\n mah", sqrt(m$mah)[c(1,2,20,40)],"\n")
}
print(hubers(chem)); print(hubers(abbey))
cat("chem", chem, "\nabbey", abbey, "\n")
