namespace DecayAtlas.Prediction.Tests.Classes;

/// <summary>Sites on a square of ten degrees whose ln k hangs on warmth (by a curve), on the land cover of a grid and on how they are
/// farmed, which they state; sites differ beyond that, and all share a lot that is off.</summary>
internal sealed class FarmedIsland : IDisposable
{
    public const double OrganicEffect = 0.3, Noise = 0.2;

    /// <summary>By code; 4 is water, where no site lies.</summary>
    public static readonly (double Code, string Name, double Effect)[] Covers =
        [(1, "Wald", 0.25), (2, "Grünland", -0.1), (3, "Moor", -0.4)];

    private const double West = 10, North = 50, Side = 10;
    private const int Cells = 100;

    private readonly TemporaryFolder _folder = new();

    public FarmedIsland()
    {
        GridLattice cells = new(Cells, Cells, West, North, Side / Cells, Side / Cells);
        float[] warmth = new float[Cells * Cells], cover = new float[Cells * Cells];
        for (int row = 0; row < Cells; row++)
        {
            for (int column = 0; column < Cells; column++)
                (warmth[row * Cells + column], cover[row * Cells + column]) = (WarmthAt(column, row), (float)CoverAt(column, row));
        }

        GeoTiffWriter.WriteSingle(_folder.Of("warmth.tif"), cells, warmth, new("warmth", "degC"));
        GeoTiffWriter.WriteSingle(_folder.Of("cover.tif"), cells, cover, new("cover", "", IsClass: true));
        Entries =
        [
            new("warmth", "Warmth", _folder.Of("warmth.tif"), 1, "degC", SamplingRule.Nearest, false, null, null, null, null, "invented"),
            new("cover", "Land cover", _folder.Of("cover.tif"), 1, "", SamplingRule.Nearest, true, null, null, null, null, "invented")
            {
                Classes = new Dictionary<double, string> { [1] = "Wald", [2] = "Grünland", [3] = "Moor", [4] = "Wasser" },
            },
        ];
    }

    public IReadOnlyList<CatalogueEntry> Entries { get; }

    public static IReadOnlyList<CovariateInfo> Covariates { get; } =
    [
        new("warmth", "degC", "Warmth"), new("cover", "", "Land cover") { IsClass = true },
        new("management", "", "Management, as stated") { IsClass = true, IsStated = true },
    ];

    public string Of(params string[] parts) => _folder.Of(parts);

    public void Dispose() => _folder.Dispose();

    /// <summary>ln k of a place, with what its lot is off by.</summary>
    public static double Truth(double warmth, double coverEffect, bool isOrganic) =>
        -4.5 + 0.09 * (warmth - 10) - 0.004 * (warmth - 10) * (warmth - 10) + coverEffect + (isOrganic ? OrganicEffect : 0);

    /// <summary>Rows with the names of classes, not numbered yet.</summary>
    public static TrainingSet Named(int seed, int sites = 240)
    {
        Random random = new(seed);
        double lot = 0.1 * Normal(random);
        List<TrainingRow> rows = [];
        while (rows.Count < sites)
        {
            (double u, double v) = (random.NextDouble() * Cells, random.NextDouble() * Cells);
            double code = CoverAt((int)u, (int)v), warmth = WarmthAt((int)u, (int)v);
            if (code == 4)
                continue;
            (_, string cover, double effect) = Covers.Single(c => c.Code == code);
            bool isOrganic = random.NextDouble() < 0.4;
            rows.Add(new TrainingRow($"s{rows.Count:0000}", "c", North - v * Side / Cells, West + u * Side / Cells,
                Truth(warmth, effect, isOrganic) + Noise * Normal(random) + lot, 1, new(2022, 5, 1), new(2022, 8, 1),
                [warmth, double.NaN, double.NaN])
            {
                Classes = [null, cover, isOrganic ? "organic" : "conventional"],
                Errors = new(0.01, [new("lot/a/h", 0.1, false)], []),
            });
        }

        return new(Covariates, rows, "r", 0);
    }

    public static TrainingSet Set(int seed, int sites = 240) => ResidualWeights.On(ClassRows.Numbered(Named(seed, sites), 1));

    /// <summary>Lines and curves alone, which take a second to train.</summary>
    public static RateModel Train(TrainingSet set, TrainingOptions options) => ModelTrainer.TrainOf(set, options,
        new CandidateSet(new MeanCandidate(), null, [new LinearCandidate(), new CurvedCandidate()], []));

    public static double CoverAt(int column, int row) => column > 92 ? 4 : 1 + (column / 7 + 2 * (row / 9)) % 3;

    public static float WarmthAt(int column, int row) => (float)(4 + 0.08 * row + 4 * Math.Sin(column / 11.0));

    private static double Normal(Random random) =>
        Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
