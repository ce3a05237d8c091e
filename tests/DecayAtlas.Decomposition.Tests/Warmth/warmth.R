# Reference numbers for the temperature-response tests: R 4.2 stats::lm.
options(digits=12); set.seed(5)
T <- c(2.1,4.5,6.3,8.8,10.2,11.9,13.4,15.0,17.7,19.2,21.5,24.3); m <- c(.31,.22,.4,.28,.18,.35,.26,.42,.2,.33,.15,.24)
k <- round(0.008*2.1^((T-10)/10)*exp(1.5*(m-.28)+rnorm(12,0,.1)),5); w <- rep(c(1,2,4),4)
cat("k:",k,"\n")
f <- lm(log(k)~I(T-10)+I(m-mean(m)),weights=w); print(exp(10*c(coef(f)[2],confint(f)[2,]))); print(c(coef(f)[3],confint(f)[3,])); print(summary(f)$r.squared); print(summary(f)$sigma)
x <- (1/283.15-1/(T+273.15))/8.314462618e-3; f <- lm(log(k)~x); print(c(coef(f)[2],confint(f)[2,]))
x <- 1/56.02-1/(T+46.02); f <- lm(log(k)~x); print(c(coef(f)[2],confint(f)[2,])); print(exp(predict(f,data.frame(x=1/56.02-1/66.02),interval="confidence")))
f <- lm(log(k)~I(T-10)+I(m-mean(m))+I((m-mean(m))^2)); print(c(coef(f)[4],confint(f)[4,]))
