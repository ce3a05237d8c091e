using System.Globalization;

namespace DecayAtlas.Prediction.Tests.Classes;

/// <summary>Classes as covariates on public data, held against R's numbers in <c>data/classes.txt</c>.</summary>
public class ClassesAgainstR
{
    private static readonly string[] Soils = ["1", "2", "3"];

    private static readonly TrainingSet Set = ClassRows.Numbered(new TrainingSet(
        [new("elev", "m", "Elevation"), new("ffreq", "", "Floods") { IsClass = true }, new("soil", "", "Soil") { IsClass = true }],
        [.. TestTable.Read("meuse.csv").Rows.Select((r, i) => new TrainingRow($"{i:000}", "c", r[1] / 1e5, r[0] / 1e5, r[6], 1.0 + i % 3,
            default, default, [r[2], double.NaN, double.NaN])
        {
            Classes = [null, r[4].ToString(CultureInfo.InvariantCulture), r[5].ToString(CultureInfo.InvariantCulture)],
        })], "r", 0), 0.005);

    private static readonly CovariateTable Table = CovariateTable.Of(Set);

    private static double[][] OfR(string name) =>
    [
        .. File.ReadLines(TestTable.PathOf("classes.txt")).Where(l => l.StartsWith(name + " ", StringComparison.Ordinal))
            .Select(l => l.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1..]
                .Select(v => double.Parse(v, CultureInfo.InvariantCulture)).ToArray()),
    ];

    /// <summary>lm codes classes by contrasts against a first one, and the columns here leave none out: what they predict must agree all
    /// the same. Features are of single precision.</summary>
    [Fact]
    public void A_vanishing_penalty_comes_to_lm_with_its_contrasts()
    {
        RatePredictor lines = new LinearCandidate().Fit(Table, new(Penalty: 1e-9), new()).Predictor;
        double[] expected = OfR("lm").Single();
        for (int r = 0; r < Table.Count; r++)
            Assert.Equal(expected[r], lines.Predict(Table.FeaturesOf(r)), 1e-5);
    }

    [Fact]
    public void Slopes_with_a_penalty_are_those_of_the_formula_in_R()
    {
        foreach (double[] expected in OfR("ridge"))
        {
            LinesFormula lines = (LinesFormula)((FormulaPredictor)new LinearCandidate()
                .Fit(Table, new(Penalty: expected[0]), new()).Predictor).Formula;
            Assert.Equal(expected[1..], [.. lines.Slopes, lines.Intercept], (a, b) => Math.Abs(a - b) <= 1e-5 * Math.Abs(a));
        }
    }

    [Fact]
    public void The_effect_of_a_class_is_what_lm_predicts_were_all_rows_of_it()
    {
        RatePredictor lines = new LinearCandidate().Fit(Table, new(Penalty: 1e-9), new()).Predictor;
        CovariateEffect found = ClassEffects.Of(Set.Covariates[2], 2, Table, lines);
        Assert.Equal(OfR("soil").Single(), found.Effects, (a, b) => Math.Abs(a - b) < 1e-5);
        Assert.Equal(Soils, found.Classes);
    }

    [Fact]
    public void Variance_inflation_of_a_class_is_the_generalised_one_of_car()
    {
        Collinearity found = Collinearity.Of(Set.Covariates, Table);
        Assert.Equal(OfR("vif").Single(), found.Inflation.Select(f => f.Factor!.Value), (a, b) => Math.Abs(a - b) < 1e-5);
        Assert.Empty(found.Pairs);
    }

    /// <summary>A soil that is told by two names is one: then r is 1, whatever the numbering.</summary>
    [Fact]
    public void Two_classes_that_say_the_same_move_together_and_determine_each_other()
    {
        TrainingSet twice = Set with
        {
            Covariates = [Set.Covariates[0], Set.Covariates[2], Set.Covariates[2] with { Name = "again" }],
            Rows = [.. Set.Rows.Select(r => r with { Covariates = [r.Covariates[0], r.Covariates[2], 2 - r.Covariates[2]] })],
        };
        Collinearity found = Collinearity.Of(twice.Covariates, CovariateTable.Of(twice));
        Assert.Equal(("soil", "again"), (found.Pairs.Single().First, found.Pairs.Single().Second));
        Assert.Equal(1, found.Pairs.Single().Correlation, 1e-6);
        Assert.Null(found.Inflation[1].Factor);
        Assert.NotNull(found.Inflation[0].Factor);
    }
}
