using static DecayAtlas.Pipeline.Flags.FlagCatalogue;

namespace DecayAtlas.Pipeline.Flags;

/// <summary>What can't be so: gains, losses beyond the litter, dates the wrong way round.</summary>
internal static class PhysicalFlags
{
    /// <summary>Coverage factor for about 95 % (JCGM 100:2008, G.6.6).</summary>
    private const double Coverage = 2;

    public static IEnumerable<Flag> Raise(FlagInputs inputs)
    {
        foreach (Bag bag in inputs.Bags)
        {
            string contribution = bag.Header.ContributionId, id = bag.Row.BagId;
            if (bag.Remaining.Value is { Fraction: > 1 } w)
            {
                double limit = 1 + Coverage * w.UncertaintyBag;
                FlagDefinition definition = w.Fraction > limit ? MassGain : MassGainWithinWeighing;
                yield return definition.Raise(contribution, id,
                    $"{w.Fraction:0.000} of the initial litter mass remains; the weighing explains up to {limit:0.000}.", w.Fraction, limit, "1");
            }
            else if (bag.Remaining.Reason == MissingReason.MassNotPositive)
            {
                yield return LossExceedsLitter.Raise(contribution, id,
                    $"Masses {bag.Row.MassInitialGrams} g and {bag.Row.MassFinalGrams} g leave no litter once a tare of {Tare(bag)} g is taken off.",
                    bag.Row.MassFinalGrams, Tare(bag), "g");
            }

            if (bag.Row.RetrievedOn is not { } retrieved)
                continue;
            int days = retrieved.DayNumber - bag.Row.BuriedOn.DayNumber;
            if (days <= 0)
            {
                yield return RetrievedBeforeBuried.Raise(contribution, id,
                    $"Buried on {bag.Row.BuriedOn:yyyy-MM-dd}, retrieved on {retrieved:yyyy-MM-dd}.", days, 1, "d");
            }

            if (Latest(bag, inputs.Options.AsOf) is { } latest && retrieved > latest)
            {
                yield return RetrievedInFuture.Raise(contribution, id,
                    $"Retrieved on {retrieved:yyyy-MM-dd}, but the contribution was made by {latest:yyyy-MM-dd}.",
                    retrieved.DayNumber - latest.DayNumber, 0, "d");
            }
        }

        foreach (Burial burial in inputs.Burials)
        {
            if (burial.StabilisationFactor.Value is { } s && s.Value < -Coverage * s.Uncertainty)
            {
                yield return FastLossBeyondHydrolysable.Raise(burial.Header.ContributionId, burial.BurialId,
                    $"S is {s.Value:0.000} with a standard uncertainty of {s.Uncertainty:0.000}.", s.Value, -Coverage * s.Uncertainty, "1");
            }

            if (burial.RatePerDay.Reason == MissingReason.SlowLossAtPlateau)
            {
                double plateau = 1 - burial.Slow!.Lot.HydrolysableFraction * (1 - burial.StabilisationFactor.Value!.Value);
                double w = burial.Slow.Remaining.Value!.Fraction;
                yield return SlowLossAtPlateau.Raise(burial.Header.ContributionId, burial.BurialId,
                    $"{w:0.000} of the slow litter remains; its plateau is {plateau:0.000}.", w, plateau, "1");
            }
        }
    }

    private static double Tare(Bag bag) => bag.Row.MassBasis == MassBasis.Gross ? bag.Lot.TareGrams ?? 0 : 0;

    private static DateOnly? Latest(Bag bag, DateOnly? asOf) => (bag.Header.Created, asOf) switch
    {
        ({ } created, { } day) => created < day ? created : day,
        (var created, var day) => created ?? day,
    };
}
