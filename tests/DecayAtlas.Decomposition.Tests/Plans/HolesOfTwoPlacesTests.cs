using MathNet.Numerics.Distributions;

namespace DecayAtlas.Decomposition.Tests.Plans;

public class HolesOfTwoPlacesTests
{
    // Smyth 2004, section 4: where scatters of places are those of a scaled inverse chi-square, the moderated t of no difference is
    // Student's with all degrees of freedom, so that one in twenty is called apart; three standard errors of 10,000 trials are 0.0065
    [Fact]
    public void Two_places_that_are_alike_are_called_apart_once_in_twenty_times()
    {
        const int trials = 10_000;
        Random random = new(20041);
        int apart = Enumerable.Range(0, trials).Count(_ =>
        {
            double scatter = Math.Sqrt(4 * 0.3 * 0.3 / ChiSquared.Sample(random, 4));
            return HolesOfTwoPlaces.AreApart(Holes(3), Holes(4), 0.3);

            HoleRate[] Holes(int count) =>
                [.. Enumerable.Range(0, count).Select(_ => new HoleRate(Normal.Sample(random, -4.5, scatter), 0))];
        });
        Assert.InRange(apart / (double)trials, 0.0435, 0.0565);
    }

    // three holes at 0.0112, 0.0108, 0.0115 and four at 0.0069, 0.0068, 0.0071, 0.0067 a day by hand: squares about the two means are
    // 0.00201 and 0.00181, so (4 * 0.09 + 0.00382) / 9 = 0.04042 and t = 0.4850 / sqrt(0.04042 * 7 / 12) = 3.158 with 9 degrees of
    // freedom, beyond the 2.262 of table 3 of the NIST/SEMATECH e-Handbook; with 0.6 for 0.3 it is 1.597
    [Theory, InlineData(0.3, true), InlineData(0.6, false)]
    public void A_difference_far_beyond_the_scatter_of_the_holes_is_one(double known, bool areApart) => Assert.Equal(areApart,
        HolesOfTwoPlaces.AreApart(Of(0.0112, 0.0108, 0.0115), Of(0.0069, 0.0068, 0.0071, 0.0067), known));

    private static HoleRate[] Of(params double[] rates) => [.. rates.Select(k => new HoleRate(Math.Log(k), 0))];
}
