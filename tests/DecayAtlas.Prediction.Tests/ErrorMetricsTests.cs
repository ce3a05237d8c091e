namespace DecayAtlas.Prediction.Tests;

public class ErrorMetricsTests
{
    [Fact]
    public void Metrics_equal_an_example_worked_by_hand()
    {
        // Worked by hand from the textbook definitions: y = 3, −0.5, 2, 7; p = 2.5, 0, 2, 8.
        // errors −0.5, 0.5, 0, 1: SSE = 0.25 + 0.25 + 0 + 1 = 1.5; mean y = 2.875; SST = 0.015625 + 11.390625 + 0.765625 + 17.015625 =
        // 29.1875.
        // The same numbers are the worked example of r2_score in the scikit-learn user guide, which gives 0.948... (from memory).
        ErrorMetrics m = ErrorMetrics.Of([3, -0.5, 2, 7], [2.5, 0, 2, 8]);

        Assert.Equal(4, m.Rows);
        Assert.Equal(Math.Sqrt(1.5 / 4), m.Rmse, 12);
        Assert.Equal(0.5, m.Mae, 12);
        Assert.Equal(0.25, m.Bias, 12);
        Assert.Equal(0.9486081370449679, m.R2, 12);
        // R 4.2: y <- c(3,-.5,2,7); p <- c(2.5,0,2,8);
        // 2*mean((y-mean(y))*(p-mean(p))) / (mean((y-mean(y))^2) + mean((p-mean(p))^2) + (mean(y)-mean(p))^2), the formula of Lin 1989
        Assert.Equal(0.97678916827853002, m.Concordance, 12);
    }

    [Fact]
    public void Predicting_the_mean_of_the_observations_explains_nothing()
    {
        ErrorMetrics m = ErrorMetrics.Of([1, 2, 3], [2, 2, 2]);
        Assert.Equal(0, m.R2, 12);
        Assert.Equal(0, m.Bias, 12);
    }
}
