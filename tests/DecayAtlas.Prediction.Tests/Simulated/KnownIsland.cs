namespace DecayAtlas.Prediction.Tests.Simulated;

/// <summary>A place of an invented island.</summary>
/// <param name="Covariates">Temperature (degC), moisture, pH, clay (percent).</param>
/// <param name="LnRate">True ln k there; k in d⁻¹.</param>
/// <param name="Expected">True mean of ln k over places with such ground, around there.</param>
internal sealed record KnownPlace(GeoPoint Point, double[] Covariates, string Kind, double LnRate, double Expected, double Stabilisation);

/// <summary>What differs from island to island of a run.</summary>
/// <param name="LotsAreOff">Whether the true chemistry of lots is off the declared one, by its standard deviation; else it is as declared,
/// and its uncertainty none.</param>
/// <param name="OwnLots">Each contributor has lots of its own, that lie where it digs and nowhere else; else two years share two.</param>
internal sealed record IslandDesign(bool LotsAreOff = true, int Contributors = 24, int SitesOfEach = 14, double UnseenSd = 0.05,
    bool OwnLots = false);

/// <summary>
/// An invented island whose truth is known, and litter bags dug on it. Its warmth acts as an Arrhenius law, its moisture has an optimum,
/// something unseen varies in space, and kinds of ground scatter by more or less: nothing of that is what a model of the program assumes.
/// Lots err through the weighings: the bags lose what the true chemistry lets them, and k is computed with the declared one.
/// </summary>
internal sealed class KnownIsland
{
    public const double Days = 90, BurialSd = 0.10, BatchSd = 0.04, UnspokenSd = 0.09;

    private static readonly (string Name, double Share, double Sd)[] Kinds =
        [("bog", 0.25, 0.06), ("forest", 0.35, 0.10), ("meadow", 0.25, 0.16), ("field", 0.15, 0.26)];

    private static readonly (double Fast, double Slow, double FastSd, double SlowSd) Declared = (0.76, 0.48, 0.018, 0.026);

    private readonly Random _random;
    private readonly IslandDesign _design;
    private readonly (double U, double V, double Phase, double Size)[][] _fields;
    private readonly (double Fast, double Slow)[] _lots;

    public KnownIsland(int seed, IslandDesign design)
    {
        _random = new Random(seed);
        _design = design;
        _fields = [.. new[] { 1.6, 1.4, 2.2, 2.4, 3.2, 2.0 }.Select(Waves)];
        _lots = [.. Enumerable.Range(0, design.OwnLots ? design.Contributors : 2).Select(_ => NewLot())];
    }

    public static IReadOnlyList<CovariateInfo> Covariates { get; } =
    [
        new("temperature", "degC", "Temperature"), new("moisture", "1", "Moisture"), new("ph", "pH", "pH"), new("clay", "percent", "Clay"),
    ];

    /// <summary>A place anywhere, 0 to 9 degrees east and 40 to 49 north.</summary>
    public KnownPlace AnyPlace() => PlaceAt(9 * _random.NextDouble(), 40 + 9 * _random.NextDouble());

    public KnownPlace PlaceAt(double east, double north)
    {
        double[] x = CovariatesAt(east, north);
        double expected = Response(x) + _design.UnseenSd * Field(5, east, north), share = _random.NextDouble();
        (string kind, _, double sd) = Kinds.First(k => (share -= k.Share) <= 0 || k.Name == "field");
        return new(new GeoPoint(east, north), x, kind, expected + sd * Normal(), expected, 0.26 + 0.04 * Field(4, east, north));
    }

    /// <summary>True ln k under covariates, without what is unseen: Arrhenius with 55 kJ/mol (invented), an optimum of moisture.</summary>
    public static double Response(IReadOnlyList<double> x) => Math.Log(0.011) + 55_000 / 8.314 * (1 / 283.15 - 1 / (273.15 + x[0]))
        + Math.Log(1 / (1 + 6 * (x[1] - 0.6) * (x[1] - 0.6))) + 0.09 * (x[2] - 6.2) - 0.004 * (x[3] - 24);

    /// <summary>Sites of contributors, each with lots of one of two years, a batch of its own, and 2 to 8 burials a site.</summary>
    public TrainingSet Dig()
    {
        List<TrainingRow> rows = [];
        for (int c = 0; c < _design.Contributors; c++)
        {
            (double east, double north) = (9 * _random.NextDouble(), 40 + 9 * _random.NextDouble());
            int lot = _design.OwnLots ? c : c % 2;
            bool isUnspoken = c % 3 == 0;
            double batch = isUnspoken ? Math.Sqrt(3) * (2 * _random.NextDouble() - 1) : Normal();
            for (int s = 0; s < _design.SitesOfEach; s++)
            {
                KnownPlace place = PlaceAt(Inside(east + 0.8 * Normal(), 0, 9), Inside(north + 0.8 * Normal(), 40, 49));
                int burials = 2 + _random.Next(7);
                double own = BurialSd * Normal() / Math.Sqrt(burials) + batch * (isUnspoken ? UnspokenSd : BatchSd);
                if (RowOf(place, $"c{c:00}", s, lot, isUnspoken, burials, own) is { } row)
                    rows.Add(row);
            }
        }

        return ResidualWeights.On(new TrainingSet(Covariates, rows, "known-island", 0));
    }

    /// <summary>Sites at stated places, dug by one more contributor with lots of the first year and a batch of its own.</summary>
    public IReadOnlyList<TrainingRow> DigAt(IEnumerable<GeoPoint> points, int burials)
    {
        double batch = BatchSd * Normal();
        return [.. points.Select(p => PlaceAt(p.LongitudeDegrees, p.LatitudeDegrees))
            .Select((p, s) => RowOf(p, "new", s, 0, false, burials, BurialSd * Normal() / Math.Sqrt(burials) + batch))
            .OfType<TrainingRow>()];
    }

    private TrainingRow? RowOf(KnownPlace place, string contributor, int site, int lot, bool isUnspoken, int burials, double own) =>
        Measured(place, _lots[lot], own) is not { } found ? null
        : new($"{contributor}/s{site:00}", $"{2023 + lot % 2}", place.Point.LatitudeDegrees, place.Point.LongitudeDegrees,
            found.LnRate, 1, new(2023 + lot % 2, 5, 1), new(2023 + lot % 2, 8, 1), place.Covariates, place.Kind)
        {
            Errors = new(BurialSd * BurialSd / burials,
            [
                .. !_design.LotsAreOff ? []
                    : new SharedError[]
                    {
                        new($"lot/F{lot}/hydrolysable", found.OnFast, false), new($"lot/S{lot}/hydrolysable", found.OnSlow, false),
                    },
                new($"batch/{contributor}/water{(isUnspoken ? "-range" : "")}", isUnspoken ? UnspokenSd : BatchSd, true, isUnspoken),
            ], []),
        };

    /// <summary>ln k of a place as another group measures it, with lots and a batch of its own; missing where its slow litter is at its
    /// plateau.</summary>
    public double? MeasuredByOthers(KnownPlace place) =>
        Measured(place, NewLot(), BurialSd * Normal() / Math.Sqrt(4) + BatchSd * Normal())?.LnRate;

    private static (double LnRate, double OnFast, double OnSlow)? Measured(KnownPlace place, (double Fast, double Slow) lot, double own)
    {
        double left = 1 - place.Stabilisation;
        double fast = 1 - lot.Fast * left, slow = 1 - lot.Slow * left * (1 - Math.Exp(-Math.Exp(place.LnRate) * Days));
        double? Rate(double offFast, double offSlow)
        {
            double decomposable = (Declared.Slow + offSlow) * (1 - fast) / (Declared.Fast + offFast), rest = slow - (1 - decomposable);
            return rest > 0 ? Math.Log(Math.Log(decomposable / rest) / Days) : null;
        }

        return Rate(0, 0) is { } found && Rate(Declared.FastSd, 0) is { } fastUp && Rate(-Declared.FastSd, 0) is { } fastDown
            && Rate(0, Declared.SlowSd) is { } slowUp && Rate(0, -Declared.SlowSd) is { } slowDown
            ? (found + own, (fastUp - fastDown) / 2, (slowUp - slowDown) / 2) : null;
    }

    private (double Fast, double Slow) NewLot() => !_design.LotsAreOff ? (Declared.Fast, Declared.Slow)
        : (Declared.Fast + Declared.FastSd * Normal(), Declared.Slow + Declared.SlowSd * Normal());

    private double[] CovariatesAt(double east, double north) =>
    [
        11 - 0.9 * (north - 44.5) + 2.0 * Field(0, east, north), Math.Clamp(0.58 + 0.13 * Field(1, east, north), 0.1, 1),
        6.2 + 0.7 * Field(2, east, north), 24 + 9 * Field(3, east, north),
    ];

    private (double, double, double, double)[] Waves(double turns) => [.. Enumerable.Range(0, 6).Select(_ =>
    {
        double way = 2 * Math.PI * _random.NextDouble(), length = turns * (0.5 + _random.NextDouble()) * 2 * Math.PI / 9;
        return (length * Math.Cos(way), length * Math.Sin(way), 2 * Math.PI * _random.NextDouble(), 1 / Math.Sqrt(3));
    })];

    private double Field(int field, double east, double north) =>
        _fields[field].Sum(w => w.Size * Math.Sin(w.U * east + w.V * (north - 40) + w.Phase));

    private double Normal() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());

    private static double Inside(double x, double least, double most) => Math.Clamp(x, least, most);
}
