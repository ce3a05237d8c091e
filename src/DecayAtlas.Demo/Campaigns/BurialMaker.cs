using System.Globalization;
using MathNet.Numerics.Distributions;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// Makes the two weighings of a burial from its true k and S: the equations of decomposition run backwards, then the
/// ash, the tare and the balance.
/// </summary>
/// <remarks>
/// a_f = H_f (1 - S); a_s = H_s (1 - S); w_f = 1 - a_f (the fast litter has reached its plateau);
/// w_s = 1 - a_s (1 - exp(-k t)), t in days. In a series of retrievals w_f = 1 - a_f (1 - exp(-8 k t)): early bags have not reached it.
/// </remarks>
internal sealed class BurialMaker(Random random)
{
    // A sound burial must look sound: clear of the slow plateau, of the hydrolysable share and of the lot's tolerance.
    private const double LeastLeftOfDecomposable = 0.035, LeastBelowHydrolysable = 0.035, ShareOfTolerance = 0.85;

    private readonly HashSet<string> _burialMasses = new(StringComparer.Ordinal);
    private readonly HashSet<string> _bagMasses = new(StringComparer.Ordinal);

    public BurialDraft Make(ContributionDraft contribution, SiteDraft site, int number, LotDraft fastLot, LotDraft slowLot,
        DateOnly buriedOn, int days, PlotDraft? apart = null)
    {
        Contributor contributor = contribution.Contributor;
        string burialId = $"{contribution.Campaign.Mark}-{site.SiteId}-{number}";
        string plot = apart is not null ? apart.Plot : contributor.Kind == ContributorKind.Laboratory ? (number % 2 == 1 ? "A" : "B") : "";
        double depth = contributor.Kind == ContributorKind.Laboratory ? 8 : Math.Round((7.5 + random.NextDouble()) * 2) / 2;
        while (true)
        {
            double rate = Math.Exp(site.TrueLnRate + (apart?.LnRateShift ?? 0) + Normal.Sample(random, 0, DecayResponse.BurialSdLnRate));
            double stabilisation =
                site.TrueStabilisation + (apart?.StabilisationShift ?? 0) + Normal.Sample(random, 0, DecayResponse.BurialSdStabilisation);
            double fastLeft =
                1 - (fastLot.Hydrolysable * (1 - stabilisation) * (apart?.FastRate is { } over ? 1 - Math.Exp(-over * rate * days) : 1));
            double slowLeft = 1 - (slowLot.Hydrolysable * (1 - stabilisation) * (1 - Math.Exp(-rate * days)));

            BagDraft Bag(LitterRole role, LotDraft lot, double left)
            {
                BagDraft bag = new($"{burialId}-{(role == LitterRole.Fast ? "F" : "S")}", burialId, site.SiteId, role)
                {
                    Plot = plot,
                    Replicate = number,
                    Treatment = apart?.Treatment ?? "",
                    LotId = lot.LotId,
                    Basis = contributor.Basis,
                    BuriedOn = buriedOn,
                    RetrievedOn = buriedOn.AddDays(days),
                    DepthCentimetres = depth,
                    ResolutionGrams = contributor.ResolutionGrams,
                    MassDecimals = DecimalsOf(contributor.ResolutionGrams),
                };
                Weigh(bag, lot, left, contributor.MeasuresAsh);
                return bag;
            }

            BurialDraft burial = new(burialId, site.SiteId, Bag(LitterRole.Fast, fastLot, fastLeft),
                Bag(LitterRole.Slow, slowLot, slowLeft));
            // out of the standard exposure the limits of the two-bag equations are no limits
            bool isSound = days is >= 60 and <= 120 ? LooksSound(burial, fastLot, slowLot)
                : IsNearNominal(burial.Fast!, fastLot) && IsNearNominal(burial.Slow!, slowLot);
            if (isSound && AreFirstOfTheirKind(contribution, burial)) return burial;
        }
    }

    private void Weigh(BagDraft bag, LotDraft lot, double left, bool measuresAsh)
    {
        double litter = StandardLots.NominalGrams + Normal.Sample(random, 0, StandardLots.ToleranceGrams / 3);
        double tare = bag.Basis == MassBasis.Gross ? lot.TareGrams!.Value + Normal.Sample(random, 0, lot.TareSdGrams!.Value) : 0;
        double final = litter * left;
        if (measuresAsh)
        {
            // Soil sticks to the litter: the weighed mass has gained ash, the organic part is what the equations speak of.
            double ash = Math.Round(lot.Ash!.Value / left * (0.9 + (0.2 * random.NextDouble())) + (0.04 * random.NextDouble()), 3);
            final = litter * (1 - lot.Ash!.Value) * left / (1 - ash);
            bag.AshFraction = ash;
        }

        bag.InitialGrams = Reading(litter + tare, bag);
        bag.FinalGrams = Reading(final + tare, bag);
    }

    private double Reading(double grams, BagDraft bag)
    {
        double step = bag.ResolutionGrams!.Value;
        double shown = grams + Normal.Sample(random, 0, 0.25 * step);
        return Math.Round(Math.Round(shown / step) * step, bag.MassDecimals);
    }

    /// <summary>Whether the masses as written keep clear of everything that a flag could take for a fault.</summary>
    internal static bool LooksSound(BurialDraft burial, LotDraft fastLot, LotDraft slowLot)
    {
        double? fast = RemainingFraction(burial.Fast!, fastLot), slow = RemainingFraction(burial.Slow!, slowLot);
        if (fast is not { } w || slow is not { } v) return false;
        double stabilisation = 1 - ((1 - w) / fastLot.Hydrolysable);
        double decomposable = slowLot.Hydrolysable * (1 - stabilisation);
        double twoSteps = 2 * (burial.Slow!.ResolutionGrams ?? 0.01) / StandardLots.NominalGrams;
        return IsNearNominal(burial.Fast!, fastLot) && IsNearNominal(burial.Slow!, slowLot)
            && 1 - w < fastLot.Hydrolysable - LeastBelowHydrolysable
            && v < 1 - Math.Max(0.05, 2 * twoSteps)
            && v - (1 - decomposable) > LeastLeftOfDecomposable + (twoSteps / 2);
    }

    /// <summary>Remaining over initial litter mass as a reader of the tables would compute it.</summary>
    internal static double? RemainingFraction(BagDraft bag, LotDraft lot)
    {
        double tare = bag.Basis == MassBasis.Gross ? lot.TareGrams ?? double.NaN : 0;
        double? w = (bag.FinalGrams - tare) / (bag.InitialGrams - tare);
        return bag.AshFraction is { } ash && lot.Ash is { } lotAsh ? w * (1 - ash) / (1 - lotAsh) : w;
    }

    private static bool IsNearNominal(BagDraft bag, LotDraft lot)
    {
        double litter = bag.InitialGrams!.Value - (bag.Basis == MassBasis.Gross ? lot.TareGrams!.Value : 0);
        return Math.Abs(litter - lot.NominalGrams!.Value) <= ShareOfTolerance * lot.ToleranceGrams!.Value;
    }

    /// <summary>
    /// Whether no other burial shows the same four masses, no other bag of the site the same two, and, where the
    /// balance is fine enough to ask it, no other bag of the contribution either: coincidence must not look like copying.
    /// </summary>
    private bool AreFirstOfTheirKind(ContributionDraft contribution, BurialDraft burial)
    {
        List<string> bagKeys = new();
        foreach (BagDraft bag in burial.Bags)
        {
            string masses = string.Create(CultureInfo.InvariantCulture, $"{bag.Role}|{bag.InitialGrams}|{bag.FinalGrams}");
            bagKeys.Add($"{contribution.Contributor.Id}|{bag.SiteId}|{masses}");
            if (bag.ResolutionGrams <= 0.01) bagKeys.Add($"{contribution.Id}|{masses}");
        }

        string burialKey = string.Create(CultureInfo.InvariantCulture,
            $"{burial.Fast!.InitialGrams}|{burial.Fast.FinalGrams}|{burial.Slow!.InitialGrams}|{burial.Slow.FinalGrams}");
        if (_burialMasses.Contains(burialKey) || bagKeys.Exists(_bagMasses.Contains)) return false;
        _burialMasses.Add(burialKey);
        _bagMasses.UnionWith(bagKeys);
        return true;
    }

    private static int DecimalsOf(double resolutionGrams) => resolutionGrams switch { < 0.01 => 3, < 0.1 => 2, _ => 1 };
}
