namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// The water that a litter still held when it was weighed, as a share of the litter as weighed (wet basis): dry mass = mass (1 - share).
/// By default none.
/// </summary>
public readonly record struct Water
{
    /// <summary>Best estimate of the share (1).</summary>
    public double Share { get; private init; }

    /// <summary>Standard uncertainty common to the batch (1).</summary>
    public double SdBatch { get; private init; }

    /// <summary>Standard uncertainty common to the lot (1).</summary>
    public double SdLot { get; private init; }

    /// <summary>Whether all that is known is a range, so that the batch's error is rectangular.</summary>
    public bool IsRange { get; private init; }

    /// <summary>Dried to constant mass, as far as that goes.</summary>
    public static Water Dried(double sd) => new() { SdBatch = sd };

    /// <summary>Measured on a subsample of the batch.</summary>
    public static Water Measured(double share, double sd) => new() { Share = share, SdBatch = sd };

    /// <summary>As the lot was supplied.</summary>
    public static Water OfLot(double share, double sd) => new() { Share = share, SdLot = sd };

    /// <summary>Anything from none to a largest share: rectangular, mean a/2 and u = a/√12 (JCGM 100:2008, 4.3.7).</summary>
    public static Water UpTo(double mostShare) => new() { Share = mostShare / 2, SdBatch = mostShare / Math.Sqrt(12), IsRange = true };

    /// <summary>Of litter that was dried in air, or of which nothing is said: anything from none to what litter takes up from the air of a
    /// room, or to what its lot was supplied with and 1.96 standard uncertainties more, whichever is larger. That a lot was supplied drier
    /// sets no limit: what it took up since is in no sheet. Common practice, no source.</summary>
    /// <param name="supplied">Moisture of the lot as supplied (1), where known.</param>
    public static Water Unspoken(double? supplied, double? suppliedSd, MeasurementAssumptions assumptions) => UpTo(Math.Max(
        assumptions.MoistureMostAirDry, supplied is { } share ? share + 1.96 * (suppliedSd ?? assumptions.MoistureSd) : 0));
}
