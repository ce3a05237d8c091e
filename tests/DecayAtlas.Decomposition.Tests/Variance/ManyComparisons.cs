namespace DecayAtlas.Decomposition.Tests.Variance;

public class ManyComparisons
{
    [Fact]
    public void Holm_adjusts_as_R_does()
    {
        // R p.adjust(method = "holm")
        Assert.Equal([0.05, 0.08, 0.09, 0.09, 0.09], MultipleComparisons.Holm([0.01, 0.02, 0.03, 0.04, 0.05]), Near);
        Assert.Equal([0.08, 0.004, 0.3, 0.06], MultipleComparisons.Holm([0.04, 0.001, 0.3, 0.02]), Near);
        static bool Near(double x, double y) => Math.Abs(x - y) < 1e-12;
    }
}
