namespace DecayAtlas.Prediction.Tests.Classes;

/// <summary>What classes do to k is found again: on blocks never seen, on the map and in differences.</summary>
public sealed class PlantedClasses : IClassFixture<PlantedClasses.Island>
{
    private static readonly TrainingOptions Quick = new() { Trees = 40, SettingsTried = 1, Members = 100, ImportanceRepeats = 3 };

    private readonly FarmedIsland _island;
    private readonly RateModel _model;

    public PlantedClasses(Island fixture) => (_island, _model) = (fixture.Farmed, fixture.Model);

    private static ClassChoices As(string management) =>
        new(new Dictionary<string, string> { ["management"] = management }, ClassChoices.None.FromGrid);

    private static ClassChoices From(string grid) =>
        new(ClassChoices.None.AsIf, new Dictionary<string, string> { ["management"] = grid });

    private MapSummary Map(string name, ClassChoices choices) => RateMap.Make(_model, _island.Entries,
        new MapOptions("Invented", []) { Choices = choices },
        new MapFiles(_island.Of(name + ".tif"), _island.Of(name + ".nc"), _island.Of(name + ".png")));

    private static double[] Band(string tif, int band)
    {
        using Grid grid = GridFile.Open(tif, new(Band: band));
        double[] values = new double[grid.Columns * grid.Rows];
        grid.ReadWindow(0, 0, grid.Columns, grid.Rows, values);
        return values;
    }

    /// <summary>The standard error of a difference of two means of 240 rows is 0.2 sqrt(1/96 + 1/144) = 0.026.</summary>
    [Fact]
    public void Effects_of_classes_are_found_and_lower_the_error_on_blocks_never_seen()
    {
        TrainingSet set = FarmedIsland.Set(1);
        TrainingSet without = set with
        {
            Covariates = [.. set.Covariates.Take(2)],
            Rows = [.. set.Rows.Select(r => r with { Covariates = [.. r.Covariates.Take(2)] })],
        };
        using RateModel lesser = FarmedIsland.Train(without, Quick);
        double rmse = _model.Card.WinnerScore().Blocked.Pooled.Rmse;
        Assert.InRange(rmse, 0.9 * FarmedIsland.Noise, 1.15 * FarmedIsland.Noise);
        // what management scatters k by, without which a model must err: 0.3 sqrt(0.4 0.6) = 0.147
        Assert.InRange(lesser.Card.WinnerScore().Blocked.Pooled.Rmse, 0.9 * Math.Sqrt(0.04 + 0.147 * 0.147), 0.3);

        CovariateEffect management = _model.Card.Findings.Effects[2], cover = _model.Card.Findings.Effects[1];
        Assert.Equal(["conventional", "organic"], management.Classes!);
        Assert.Equal(FarmedIsland.OrganicEffect, management.Effects[1] - management.Effects[0], 4 * 0.026);
        double Of(string name) => cover.Effects[cover.Classes!.ToList().IndexOf(name)];
        Assert.Equal(0.65, Of("Wald") - Of("Moor"), 4 * 0.035);
        Assert.Equal(0.35, Of("Wald") - Of("Grünland"), 4 * 0.035);
        Assert.All(_model.Card.Findings.Importance, i => Assert.True(i.RmseIncrease > 0.02, $"{i.Covariate} {i.RmseIncrease}"));
    }

    [Fact]
    public void A_map_takes_the_class_of_each_cell_and_the_stated_choice_and_leaves_out_what_was_never_seen()
    {
        MapSummary summary = Map("organic", As(" Organic "));
        Assert.Equal("organic", summary.AsIf!["management"]);
        double[] k = Band(_island.Of("organic.tif"), 1), lower = Band(_island.Of("organic.tif"), 2),
            upper = Band(_island.Of("organic.tif"), 3);
        int held = 0, water = 0;
        for (int cell = 0; cell < k.Length; cell++)
        {
            (int column, int row) = (cell % 100, cell / 100);
            double code = FarmedIsland.CoverAt(column, row);
            if (code == 4)
            {
                Assert.True(double.IsNaN(k[cell]));
                water++;
                continue;
            }

            double truth = Math.Exp(FarmedIsland.Truth(FarmedIsland.WarmthAt(column, row),
                FarmedIsland.Covers.Single(c => c.Code == code).Effect, true));
            held += truth >= lower[cell] && truth <= upper[cell] ? 1 : 0;
        }

        // places have no errors of their own here, so that intervals for those of sites that differ hold nearly all
        Assert.InRange(held / (double)(k.Length - water), 0.9, 1);
        Assert.Equal(700, water);
        Assert.Equal(water, summary.UnseenClasses!["cover: Wasser"]);
        Assert.Equal(k.Length - water, summary.Predicted);
        Assert.Equal("as-if", summary.Resampling["management"]);
        using Grid grid = GridFile.Open(_island.Of("organic.nc"), new(Variable: "decay_rate"));
        Assert.Contains("as if management is organic", System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(_island.Of("organic.tif"))),
            StringComparison.Ordinal);
    }

    [Fact]
    public void Neither_choice_nor_grid_is_told_in_one_sentence_that_names_the_classes()
    {
        string Told(ClassChoices choices)
        {
            string said = Assert.Throws<PredictionException>(() => Map("none", choices)).Message;
            Assert.DoesNotContain('\n', said);
            return said;
        }

        Assert.Contains("--as-if management=conventional), one of conventional, "
            + "organic", Told(ClassChoices.None), StringComparison.Ordinal);
        Assert.Contains("biodynamic, a class that the model never saw; it knows conventional, organic", Told(As("biodynamic")),
            StringComparison.Ordinal);
        Assert.Contains("no class grid of the catalogue; it has cover", Told(From("warmth")), StringComparison.Ordinal);
        Assert.Contains("none of whose classes (Wald, Grünland, Moor, Wasser)", Told(From("cover")), StringComparison.Ordinal);
        Assert.Contains("is no class of the model", Assert.Throws<PredictionException>(() =>
            new ClassChoices(new Dictionary<string, string> { ["warmth"] = "5" }, ClassChoices.None.FromGrid).Check(_model.Card)).Message,
            StringComparison.Ordinal);
    }

    [Fact]
    public void A_class_grid_of_which_the_model_knows_no_class_gives_no_map()
    {
        MapFiles files = new(_island.Of("empty.tif"), null, _island.Of("empty.png"));
        string Told(ClassChoices choices, params CatalogueEntry[] entries) => Assert.Throws<PredictionException>(() =>
            RateMap.Make(_model, entries, new MapOptions("Invented", []) { Choices = choices }, files)).Message;

        CatalogueEntry cover = _island.Entries[1];
        Assert.Contains("management from codes, whose codes have no names, and the model knows conventional, organic", Told(From("codes"),
            _island.Entries[0], cover, cover with { Name = "codes", Classes = null }), StringComparison.Ordinal);
        Assert.Contains("No cell can be predicted, for the model never saw the classes of the cells (cover: ", Told(As("organic"),
            _island.Entries[0], cover with { Classes = null }), StringComparison.Ordinal);
        Assert.False(File.Exists(files.Tif) || File.Exists(files.Png));
    }

    [Fact]
    public void A_map_tells_the_grid_that_its_classes_came_from_and_its_regions_take_the_same()
    {
        CatalogueEntry farms = _island.Entries[1] with
        {
            Name = "farms",
            Classes = new Dictionary<double, string> { [1] = "organic", [2] = "conventional", [3] = "organic", [4] = "none" },
        };
        MapSummary made = RateMap.Make(_model, [.. _island.Entries, farms], new MapOptions("Invented", []) { Choices = From("farms") },
            new MapFiles(_island.Of("farms.tif"), null, _island.Of("farms.png")));
        Assert.Equal("farms", made.FromGrid!["management"]);
        ClassChoices now = From("other").With(As("conventional").AsIf);
        Assert.Equal("management from farms", now.AsOf(made).ToString());
        Assert.Null(Map("chosen", now).FromGrid);
    }

    [Fact]
    public void Both_maps_together_tell_the_class_that_they_are_made_as_if_of()
    {
        TrainingSet set = FarmedIsland.Set(1);
        using RateModel shares = FarmedIsland.Train(set with
        {
            Target = PredictionTarget.Stabilisation,
            Rows = [.. set.Rows.Select(r => r with { Target = 0.3 + 0.05 * (r.Target + 4.5) })],
        }, Quick);
        MapOptions options = new("Both", []) { Choices = As(" Organic ") };
        Map("k", options.Choices);
        RateMap.Make(shares, _island.Entries, options, new MapFiles(_island.Of("s.tif"), null, _island.Of("s.png")));
        JointSummary Joint(MapOptions asked) => JointMap.Make(new(_island.Of("k.tif"), _model.Card), new(_island.Of("s.tif"), shares.Card),
            asked, JointFiles.In(_island.Of()));
        byte[] Picture() => File.ReadAllBytes(_island.Of(JointFiles.PngName));
        bool Says() => System.Text.Encoding.Latin1.GetString(File.ReadAllBytes(_island.Of(JointFiles.TifName)))
            .Contains("as if management is organic", StringComparison.Ordinal);

        Assert.Equal("organic", Joint(options).AsIf!["management"]);
        Assert.True(Says());
        byte[] before = Picture();
        Assert.Null(Joint(options with { Choices = ClassChoices.None }).AsIf);
        Assert.False(Says());
        Assert.NotEqual(before, Picture());
    }

    /// <summary>The same model over the same grids: what is left is the class alone.</summary>
    [Fact]
    public void Organic_against_conventional_is_mapped_with_its_interval_and_told_apart()
    {
        RateSide Side(string management) => new(management, _model, _island.Entries) { Choices = As(management) };
        MapFiles files = new(_island.Of("change.tif"), null, _island.Of("change.png"));
        DifferenceSummary found = DifferenceMap.Make(Side("conventional"), Side("organic"), new MapOptions("Change", []), files);
        Assert.Equal(["management"], found.Swapped);
        Assert.Equal("organic", found.After.AsIf!["management"]);
        Assert.Equal(DifferenceMap.PlacesForChange, Assert.Single(DifferenceMap.CautionsOf(found)));
        Assert.Equal(Math.Exp(FarmedIsland.OrganicEffect), found.MeanRatio!.Value, 4 * 0.026 * Math.Exp(FarmedIsland.OrganicEffect));
        Assert.Equal(found.ApplicableOnBoth, found.ToldApart);
        Assert.Equal(9300, found.Compared);

        DifferenceSummary same = DifferenceMap.Make(Side("organic"), Side("organic"), new MapOptions("Change", []), files);
        Assert.Equal((1.0, 0L), (same.MeanRatio!.Value, same.ToldApart));
    }

    /// <summary>100 islands drawn anew: with a true share of 90 %, between 83 and 97 of them hold the truth in 98 of 100 cases (binomial).
    /// Where no class does anything, as often an interval holds 1.</summary>
    [Fact]
    public void The_interval_of_the_change_holds_the_true_effect_as_often_as_it_says()
    {
        int[] holds = [.. Enumerable.Range(0, 100).AsParallel().Select(seed =>
        {
            CovariateTable table = CovariateTable.Of(FarmedIsland.Set(1000 + seed));
            (MemberSet members, _) = MemberTraining.Of(table, new CurvedCandidate(), new(Penalty: 1e-3), Quick);
            RatePredictor model = new CurvedCandidate().Fit(table, new(Penalty: 1e-3), Quick).Predictor;
            float[] conventional = [10, 1, 0, 0, 1, 0], organic = [10, 1, 0, 0, 0, 1];
            MemberVariances[] spread = new MemberVariances[1];
            members.Variances(conventional, organic, spread);
            double half = MathNet.Numerics.Distributions.StudentT.InvCDF(0, 1, members.DegreesOfFreedom, 0.95) * Math.Sqrt(spread[0].Sum);
            return Math.Abs(model.Predict(organic) - model.Predict(conventional) - FarmedIsland.OrganicEffect) <= half ? 1 : 0;
        })];
        Assert.InRange(holds.Sum(), 83, 97);
    }

    [Fact]
    public void A_model_with_classes_is_read_as_it_was_saved_and_no_order_or_spelling_of_rows_changes_it()
    {
        TrainingSet named = FarmedIsland.Named(1);
        TrainingRow[] mixed = [.. named.Rows];
        new Random(3).Shuffle(mixed);
        // capitals and spaces around in few rows
        mixed = [.. mixed.Select((r, i) => i % 7 > 0 ? r : r with
        {
            Classes = [null, r.Classes[1]!.ToUpperInvariant(), $" {r.Classes[2]} "],
        })];
        using RateModel other = FarmedIsland.Train(ResidualWeights.On(ClassRows.Numbered(named with { Rows = mixed }, 1)), Quick);
        Assert.Equal(_model.Card.ModelId, other.Card.ModelId);
        Assert.Equal(_model.Archive, other.Archive);

        string one = _island.Of("one"), two = _island.Of("two");
        _model.Save(one);
        other.Save(two);
        foreach (string file in Directory.GetFiles(one).Select(f => Path.GetFileName(f)))
            Assert.Equal(File.ReadAllBytes(Path.Combine(one, file)), File.ReadAllBytes(Path.Combine(two, file)));
        using RateModel read = RateModel.Load(one);
        PredictionBlock first = new(3, 4), second = new(3, 4);
        foreach (PredictionBlock block in new[] { first, second })
        {
            (block.Covariates[0][0], block.Covariates[1][0], block.Covariates[2][0]) = (9, 2, 1);
            (block.Covariates[0][1], block.Covariates[1][1], block.Covariates[2][1]) = (9, CovariateClasses.Unseen, 1);
            (block.Covariates[0][2], block.Covariates[1][2], block.Covariates[2][2]) = (9, 3, 1);
            (block.Covariates[0][3], block.Covariates[1][3], block.Covariates[2][3]) = (9, float.NaN, 1);
        }

        _model.Predict(first, 4);
        read.Predict(second, 4);
        Assert.Equal(first.Predictions, second.Predictions);
        Assert.Equal(first.Lower, second.Lower);
        Assert.Equal([false, true, true, true], first.Predictions.Select(float.IsNaN));
        string card = File.ReadAllText(Path.Combine(one, RateModel.CardMarkdownFile));
        Assert.Contains("conventional (", card, StringComparison.Ordinal);
        Assert.Equal(["warmth", "cover=Grünland", "cover=Moor", "cover=Wald", "management=conventional", "management=organic"],
            read.Card.Features);
    }

    public sealed class Island : IDisposable
    {
        internal FarmedIsland Farmed { get; } = new();

        public RateModel Model { get; } = FarmedIsland.Train(FarmedIsland.Set(1), Quick);

        public void Dispose()
        {
            Model.Dispose();
            Farmed.Dispose();
        }
    }
}
