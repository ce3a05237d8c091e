# Reference numbers for the decay-curve tests: R 4.2 stats::nls (algorithm port) and confint (MASS profile likelihood).
suppressMessages(library(MASS)); options(digits=12)
set.seed(77)
t <- c(7,14,28,42,60,90,120,180,240,365); t2 <- rep(t, each=2)
a <- round(0.35+0.65*exp(-0.018*t2)+rnorm(20,0,.015),4)
d <- round(0.55*exp(-0.05*t2)+0.45*exp(-0.0015*t2)+rnorm(20,0,.01),4)
cat("t2:",t2,"\n a:",a,"\n d:",d,"\n")
for (set in 1:2) { y <- if (set == 1) a else d
 s <- nls(y~exp(-k*t2), start=list(k=.01), control=nls.control(tol=1e-7))
 f <- nls(y~r+(1-r)*exp(-k*t2), start=list(k=.02,r=.3), control=nls.control(tol=1e-7))
 g <- if (set == 2) nls(y~p*exp(-k1*t2)+(1-p)*exp(-k2*t2), start=list(k1=.05,k2=.002,p=.5), control=nls.control(tol=1e-7))
 for(m in Filter(Negate(is.null), list(s,f,g))){ print(coef(summary(m))[,1:2]); print(confint(m)); n<-20;k<-length(coef(m))+1; cat("rss",deviance(m),"aicc",n*log(deviance(m)/n)+2*k+2*k*(k+1)/(n-k-1),"\n")}
}
