using System.Text.Json;

namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// Why a number that a burial should have given is missing. A missing k always carries one of these;
/// it is never replaced by a limit value.
/// </summary>
public enum MissingReason
{
    FastBagAbsent,

    SlowBagAbsent,

    /// <summary>Several bags of one litter share the burial, so that no pair can be formed.</summary>
    PairAmbiguous,

    MassNotReported,

    /// <summary>The weighings include the bag, and the tare of the lot is not known.</summary>
    TareNotReported,

    /// <summary>Nothing is left of the initial mass once the tare is taken off, or the remaining mass is negative.</summary>
    MassNotPositive,

    /// <summary>The lot's H counts the acid soluble fraction alone, and the water soluble one is not known.</summary>
    WaterSolubleNotReported,

    /// <summary>The fractions of the lot come to more than the litter.</summary>
    ChemistryImpossible,

    RetrievalNotReported,

    /// <summary>Retrieval is not later than burial.</summary>
    ExposureNotPositive,

    /// <summary>The fast litter lost nothing (a_f not above 0), so that S and with it k are undefined.</summary>
    FastLossNotPositive,

    /// <summary>The slow litter lost all that S lets it lose, or more (w_s not above 1 - a_s).</summary>
    SlowLossAtPlateau,

    /// <summary>Means were sent without the lots whose chemistry they need.</summary>
    LotNotReported,

    /// <summary>A group that sends its own k and S did not send this one.</summary>
    RateNotReported,

    /// <summary>A mean k is not above 0, so that there is no mean of ln k.</summary>
    MeanRateNotPositive,
}

/// <summary>The stable spelling of a <see cref="MissingReason"/> in tables, for example <c>slow-loss-at-plateau</c>.</summary>
public static class MissingReasonCode
{
    public static string Code(this MissingReason reason) =>
        JsonNamingPolicy.KebabCaseLower.ConvertName(reason.ToString());
}
