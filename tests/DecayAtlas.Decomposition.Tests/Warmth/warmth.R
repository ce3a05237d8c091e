# Reference numbers for warmed plots beside their controls: R 4.2 stats::lm.
options(digits=12)
x<-c(.3,.25,.4,.35,.2); d<-c(.2,.1,.35,.3,.12); f<-lm(d~x-1); print(exp(c(coef(f),confint(f))))
