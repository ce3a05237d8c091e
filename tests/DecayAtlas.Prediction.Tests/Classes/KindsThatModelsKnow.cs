using System.Globalization;

namespace DecayAtlas.Prediction.Tests.Classes;

/// <summary>Where the model takes the ecosystem as a covariate, the interval of a place is that of its kind, without anybody stating it
/// again.</summary>
public sealed class KindsThatModelsKnow : IDisposable
{
    private static readonly TrainingOptions Quick = new() { Trees = 20, SettingsTried = 1, Members = 20, ImportanceRepeats = 1 };

    private readonly FarmedIsland _island = new();

    /// <summary>The land cover is the ecosystem, and sites in the third scatter by half a unit more.</summary>
    private static TrainingSet Set()
    {
        Random random = new(9);
        TrainingSet named = FarmedIsland.Named(1);
        TrainingSet set = named with
        {
            Covariates = [.. named.Covariates.Select(c => c.Name == "cover" ? c with { Name = KindsOfPlaces.Name } : c)],
            Rows = [.. named.Rows.Select(r => r with
            {
                Ecosystem = r.Classes[1],
                Target = r.Target + (r.Classes[1] == "Moor" ? random.NextDouble() < 0.5 ? 0.5 : -0.5 : 0),
            })],
        };
        return ResidualWeights.On(ClassRows.Numbered(set, 1));
    }

    /// <summary>One place of middling warmth, conventionally farmed.</summary>
    private static (double HalfWidth, string? Of) At(RateModel model, string cover, string? stated)
    {
        PredictionBlock block = new(3, 1);
        block.Covariates[0][0] = 8;
        block.Covariates[1][0] = model.Card.Covariates[1].Classes!.PlaceOf(cover);
        block.Covariates[2][0] = 0;
        block.Kinds[0] = stated;
        model.Predict(block, 1);
        return (Math.Log(block.Upper[0] / block.Predictions[0]), block.IntervalOf[0]);
    }

    [Fact]
    public void Places_and_maps_take_the_interval_of_their_kind()
    {
        using RateModel model = FarmedIsland.Train(Set(), Quick);
        Assert.Equal(["Grünland", "Moor", "Wald"], model.Card.Findings.Interval.Kinds.Select(k => k.Kind));
        Assert.Equal((At(model, "Moor", "moor ").HalfWidth, "Moor"), At(model, "Moor", null));
        Assert.Equal((At(model, "Wald", "WALD").HalfWidth, "Wald"), At(model, "Wald", " "));
        Assert.True(At(model, "Moor", null).HalfWidth > 1.5 * At(model, "Wald", null).HalfWidth);
        // what is stated counts first, and of a kind that nobody knows nothing is known
        Assert.Equal("Wald", At(model, "Moor", "wald").Of);
        Assert.Null(At(model, "Moor", "steppe").Of);
        // regions and places to bury at stand on the same
        CovariateClasses classes = model.Card.Covariates[1].Classes!;
        double[] local = model.LocalErrors([[8, 8], [classes.PlaceOf("Wald"), classes.PlaceOf("Moor")], [0, 0]],
            [new(12, 45), new(12, 45)]).LocalHalfWidths;
        Assert.True(local[1] > 1.5 * local[0]);
        Assert.Contains("as on a map, where the model takes it as a covariate", ModelCardMarkdown.Of(model.Card), StringComparison.Ordinal);

        ClassChoices organic = new(new Dictionary<string, string> { ["management"] = "organic" }, ClassChoices.None.FromGrid);
        RateMap.Make(model, [.. _island.Entries.Select(e => e.Name == "cover" ? e with { Name = KindsOfPlaces.Name } : e)],
            new MapOptions("Invented", []) { Choices = organic }, new MapFiles(_island.Of("kinds.tif"), null, _island.Of("kinds.png")));
        double[] k = Band(1), upper = Band(3);
        double MeanOf(double code) => Enumerable.Range(0, k.Length).Where(c => FarmedIsland.CoverAt(c % 100, c / 100) == code)
            .Average(c => Math.Log(upper[c] / k[c]));
        Assert.True(MeanOf(3) > 1.5 * MeanOf(1), $"{MeanOf(3)} {MeanOf(1)}");
    }

    /// <summary>20 members are 10 pairs: of Student's t with 9 degrees of freedom 1.833 is the 95th percentile (printed tables), of the
    /// normal 1.645.</summary>
    [Fact]
    public void The_card_tells_the_half_width_of_members_as_the_map_computes_it()
    {
        using RateModel model = FarmedIsland.Train(FarmedIsland.Set(1), Quick);
        ModelFindings f = model.Card.Findings;
        string line = ModelCardMarkdown.Of(model.Card).Split('\n')
            .Single(l => l.StartsWith("| the mean of a region |", StringComparison.Ordinal));
        double told = double.Parse(line.Split('|')[2].Replace("at least", "", StringComparison.Ordinal), CultureInfo.InvariantCulture);
        Assert.Equal(1.833 * Math.Sqrt(f.Parts.OfModel + f.Members.OfShared), told, 0.001);
        Assert.True(told > 0.05);
    }

    public void Dispose() => _island.Dispose();

    private double[] Band(int band)
    {
        using Grid grid = GridFile.Open(_island.Of("kinds.tif"), new(Band: band));
        double[] values = new double[grid.Columns * grid.Rows];
        grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
        return values;
    }
}
