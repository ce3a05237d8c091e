namespace DecayAtlas.Questions.Tests;

public class ComparisonFigure
{
    [Fact]
    public void Shows_the_pairs_with_the_smallest_P_where_the_correction_leaves_all_at_one()
    {
        // in order of name the smallest P come last
        GroupPair[] pairs =
        [
            .. Enumerable.Range(0, 30)
                .Select(i => new GroupPair("a", $"b{i:00}", 1.1, 0.9, 1.3, 20, 1, 0.1, -0.1, 0.3, "No difference shows.")
            {
                PValue = 0.9 - (0.02 * i),
            }),
        ];
        ForestChart chart = (ForestChart)ReleaseFigures.ComparisonOf(
            new GroupAnswer("k", 100, 30, [], null, [], pairs, [], []) { By = "land_use" })!;

        Assert.Equal(pairs.OrderBy(p => p.PValue).Take(20).Select(p => $"{p.Second} / {p.First}"), chart.Rows.Select(r => r.Name));
        Assert.Contains("The 20 with the smallest P are shown", chart.Note, StringComparison.Ordinal);
    }
}
