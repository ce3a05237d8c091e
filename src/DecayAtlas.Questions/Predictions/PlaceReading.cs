using System.Globalization;

namespace DecayAtlas.Questions.Predictions;

/// <summary>Reads a place, a season and a depth to predict for, from named texts: cells of a table, or what a request asks.</summary>
/// <param name="usual">Of places that state none.</param>
internal sealed class PlaceReading(string latitude, string longitude, BurialConditions usual)
{
    public const string Uncertainty = "coordinate_uncertainty_m", BuriedOn = "buried_on", RetrievedOn = "retrieved_on", Depth = "depth_cm";

    /// <summary>The limit of map.depth_cm in the configuration.</summary>
    private const int DeepestCentimetres = 1000;

    /// <param name="textOf">The text under a name; null where there is none.</param>
    /// <returns>The place, and what is wrong with it; a faulty one is a spot that may be read and must not be believed.</returns>
    public (PredictedPlace Place, string? Fault) Read(Func<string, string?> textOf)
    {
        string? fault = null;
        double? north = Number(latitude, textOf, ref fault), east = Number(longitude, textOf, ref fault);
        if (fault is null && (north is null || east is null))
            fault = "coordinates missing";
        else if (fault is null && (Math.Abs(north!.Value) > 90 || Math.Abs(east!.Value) > 180))
            fault = "coordinates off the Earth";
        double? radius = Number(Uncertainty, textOf, ref fault);
        if (radius is < 0 or > GridSampler.MaxRadiusMetres)
            fault ??= $"{Uncertainty} is not 0 to {Invariant($"{GridSampler.MaxRadiusMetres}")}";
        DateOnly? from = Day(BuriedOn, textOf, ref fault), to = Day(RetrievedOn, textOf, ref fault);
        double? depth = Number(Depth, textOf, ref fault);
        if (from is null != to is null)
            fault ??= $"one of {BuriedOn} and {RetrievedOn} is missing";
        else if (to <= from)
            fault ??= $"{RetrievedOn} is not after {BuriedOn}";
        if (depth is < 0 or > DeepestCentimetres)
            fault ??= $"{Depth} is not 0 to {DeepestCentimetres}";
        if (fault is not null)
            return (new PredictedPlace(new GeoPoint(0, 0), null, usual), fault);
        ExposureDays? exposure = from is { } f && to is { } t ? new ExposureDays(f, t) : usual.Exposure;
        return (new PredictedPlace(new GeoPoint(east!.Value, north!.Value), radius,
            usual with { Exposure = exposure, DepthCentimetres = depth ?? usual.DepthCentimetres }), null);
    }

    /// <summary>A number; null where there is none, which is a fault only where something else is written.</summary>
    public static double? Number(string name, Func<string, string?> textOf, ref string? fault)
    {
        string text = textOf(name)?.Trim() ?? "";
        if (text.Length == 0 || text is "NA" or "NaN")
            return null;
        if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && double.IsFinite(value))
            return value;
        fault ??= $"{name} is no number";
        return null;
    }

    private static DateOnly? Day(string name, Func<string, string?> textOf, ref string? fault)
    {
        string text = textOf(name)?.Trim() ?? "";
        if (text.Length == 0)
            return null;
        if (DateOnly.TryParseExact(text, "yyyy-MM-dd", CultureInfo.InvariantCulture, DateTimeStyles.None, out DateOnly day))
            return day;
        fault ??= $"{name} is no day, as 2024-04-15";
        return null;
    }
}
