namespace DecayAtlas.Prediction.Maps;

/// <summary>All that maps of one target differ by from those of another: names of files and bands, units, words, colours, and how a change
/// is told. Declared here once.</summary>
public sealed record MapQuantity
{
    public static readonly MapQuantity DecayRate = new()
    {
        Target = PredictionTarget.DecayRate,
        Symbol = "k",
        Link = MadeFolder.DefaultLink,
        FileStem = "decay-rate",
        Band = "decay_rate",
        Unit = "d-1",
        LongName = "decay rate k of the slow litter",
        Heading = "Decay rate k",
        UnitInWords = "per day (d⁻¹), predicted",
        Ramp = Ramp.Rates,
        IsRatio = true,
    };

    public static readonly MapQuantity Stabilisation = new()
    {
        Target = PredictionTarget.Stabilisation,
        Symbol = "S",
        Link = MadeFolder.DefaultLink + "-stabilisation",
        FileStem = "stabilisation",
        Band = "stabilisation",
        Unit = "1",
        LongName = "stabilisation factor S",
        Heading = "Stabilisation factor S",
        UnitInWords = "no unit, predicted",
        Ramp = Ramp.Shares,
        IsRatio = false,
    };

    private MapQuantity()
    {
    }

    public PredictionTarget Target { get; private init; }

    /// <summary>As sentences and columns name it; in small letters as the option --of takes it.</summary>
    public string Symbol { get; private init; } = "";

    /// <summary>Name of the link to the newest model, and of that to the newest map.</summary>
    public string Link { get; private init; } = "";

    /// <summary>Name of the band of what is predicted; the ends of its interval add _lower and _upper.</summary>
    public string Band { get; private init; } = "";

    public string Unit { get; private init; } = "";

    public string LongName { get; private init; } = "";

    public string Heading { get; private init; } = "";

    public string UnitInWords { get; private init; } = "";

    public Ramp Ramp { get; private init; } = Ramp.Rates;

    /// <summary>Whether errors are factors and a change is told as a ratio, as of what is learnt as its logarithm.</summary>
    public bool IsRatio { get; private init; }

    /// <summary>Only a rate has one.</summary>
    public bool HasHalfLife => Target == PredictionTarget.DecayRate;

    /// <summary>How wide an interval is: as a factor where errors are, else as a difference.</summary>
    internal double WidthOf(double lower, double upper) => IsRatio ? upper / lower : upper - lower;

    public string TifName => FileStem + ".tif";

    public string NetCdfName => FileStem + ".nc";

    public string PngName => FileStem + ".png";

    private string FileStem { get; init; } = "";

    public static MapQuantity Of(PredictionTarget target) => target == PredictionTarget.DecayRate ? DecayRate : Stabilisation;
}
