using MathNet.Numerics.Distributions;

namespace DecayAtlas.Demo.Campaigns;

/// <summary>
/// Makes the two weighings of a burial from its true k and S by what happens to the matter: organic matter decays, ash stays, soil sticks,
/// water comes and goes with the handling, and the balance sees all of it.
/// </summary>
/// <remarks>
/// Of the organic matter of a litter the share D (1 - S) decays, D being all that is not acid-insoluble: of the fast litter the part
/// 1 - exp(-8 k t), of the slow litter the part 1 - exp(-k t), t in days. The fast litter has all but reached its plateau where bags lay
/// three months, and not on cold ground or in the early bags of a series.
/// </remarks>
internal sealed class BurialMaker(Random random)
{
    // How clear of the slow plateau, of the hydrolysable share and of the lot's tolerance a burial looks sound.
    private const double LeastLeftOfDecomposable = 0.035, LeastBelowHydrolysable = 0.035, ShareOfTolerance = 0.85;

    private const double OvenLeaves = 0.003;

    // where nothing is said, anything from none to a tenth is as likely
    private const double MeanUnspoken = 0.05;

    private readonly HashSet<string> _burialMasses = new(StringComparer.Ordinal);
    private readonly HashSet<string> _bagMasses = new(StringComparer.Ordinal);

    public BurialDraft Make(ContributionDraft contribution, SiteDraft site, int number, LotDraft fastLot, LotDraft slowLot,
        DateOnly buriedOn, int days, PlotDraft? apart = null)
    {
        Contributor contributor = contribution.Contributor;
        bool isLaboratory = contributor.Kind == ContributorKind.Laboratory;
        string burialId = $"{contribution.Campaign.Mark}-{site.SiteId}-{number}";
        string plot = apart?.Plot ?? (!isLaboratory ? "" : number % 2 == 1 ? "A" : "B");
        double depth = isLaboratory ? 8 : Math.Round((7.5 + random.NextDouble()) * 2) / 2;
        while (true)
        {
            double rate = Math.Exp(site.TrueLnRate + (apart?.LnRateShift ?? 0) + Normal.Sample(random, 0, DecayResponse.BurialSdLnRate));
            double unstable = 1 - (site.TrueStabilisation + Normal.Sample(random, 0, DecayResponse.BurialSdStabilisation));
            double plateau = 1 - Math.Exp(-DecayResponse.FastOverSlowRate * rate * days);
            double fastLeft = 1 - (fastLot.Truth!.Decomposable * unstable * plateau);
            double slowLeft = 1 - (slowLot.Truth!.Decomposable * unstable * (1 - Math.Exp(-rate * days)));

            BagDraft Bag(string mark, LotDraft lot, double left)
            {
                (string said, double? measured, double takenOff, double water) = WaterOf(contributor.Handling, lot);
                BagDraft bag = new($"{burialId}-{mark}", lot.Role, contributor.Basis)
                {
                    Lot = lot,
                    DryingInitial = said,
                    MoistureInitial = measured,
                    WaterTakenOff = takenOff,
                    BuriedOn = buriedOn,
                    RetrievedOn = buriedOn.AddDays(days),
                    DepthCentimetres = depth,
                    ResolutionGrams = contributor.ResolutionGrams,
                };
                Weigh(bag, left, water, contributor.MeasuresAsh);
                return bag;
            }

            BurialDraft burial = new(contribution, burialId, site.SiteId, number, plot, apart?.Treatment ?? "",
                Bag("F", fastLot, fastLeft), Bag("S", slowLot, slowLeft))
            {
                TruePlateauShare = plateau,
            };
            // never drawn again for what was lost: a burial that comes near a limit is what warm and cold ground give
            if (AreNearNominal(burial) && AreFirstOfTheirKind(burial)) return burial;
        }
    }

    /// <summary>What the table says of the litter before the first weighing, the water that its reader takes off, and the water that is in
    /// it. An oven leaves a few thousandths.</summary>
    private static (string Said, double? Measured, double TakenOff, double Water) WaterOf(LitterHandling handling, LotDraft lot) =>
        handling switch
        {
            LitterHandling.OvenDried => ("oven", null, 0, OvenLeaves),
            LitterHandling.AsSupplied => ("none", null, lot.Water!.Value, lot.Truth!.Water),
            LitterHandling.AirDried => ("air", 0.048, 0.048, 0.045),
            LitterHandling.UnspokenDried => ("", null, MeanUnspoken, OvenLeaves),
            _ => ("", null, MeanUnspoken, lot.Truth!.Water),
        };

    private void Weigh(BagDraft bag, double left, double water, bool measuresAsh)
    {
        double litter = StandardLots.NominalGrams + Normal.Sample(random, 0, StandardLots.ToleranceGrams / 3);
        double tare = bag.Basis == MassBasis.Gross ? bag.TareGrams + Normal.Sample(random, 0, StandardLots.TareSdGrams) : 0;
        double dry = litter * (1 - water), ash = dry * bag.Lot.Truth!.Ash, organic = (dry - ash) * left;
        if (measuresAsh)
        {
            // Soil sticks to the litter, and with it comes ash.
            ash += dry * left * 0.04 * random.NextDouble();
            bag.AshFraction = Math.Round(ash / (organic + ash), 3);
        }

        bag.InitialGrams = Reading(litter + tare, bag);
        bag.FinalGrams = Reading(((organic + ash) / (1 - OvenLeaves)) + tare, bag);
    }

    private double Reading(double grams, BagDraft bag) => bag.Shown(grams + Normal.Sample(random, 0, 0.25 * bag.ResolutionGrams));

    /// <summary>Whether the masses as written keep clear of everything that a flag could take for a fault.</summary>
    internal static bool LooksSound(BurialDraft burial)
    {
        (BagDraft fast, BagDraft slow) = (burial.Fast, burial.Slow);
        double stabilisation = 1 - ((1 - fast.Remaining) / fast.Hydrolysable);
        double decomposable = slow.Hydrolysable * (1 - stabilisation);
        double twoSteps = 2 * slow.ResolutionGrams / StandardLots.NominalGrams;
        return AreNearNominal(burial)
            && 1 - fast.Remaining < fast.Hydrolysable - LeastBelowHydrolysable
            && slow.Remaining < 1 - Math.Max(0.05, 2 * twoSteps)
            && slow.Remaining - (1 - decomposable) > LeastLeftOfDecomposable + (twoSteps / 2);
    }

    private static bool AreNearNominal(BurialDraft burial) =>
        burial.Bags.All(bag => bag.OffNominalGrams <= ShareOfTolerance * StandardLots.ToleranceGrams);

    /// <summary>
    /// Whether no other burial shows the same four masses, no other bag of the site the same two, and, where the
    /// balance is fine enough to ask it, no other bag of the contribution either: coincidence must not look like copying.
    /// </summary>
    private bool AreFirstOfTheirKind(BurialDraft burial)
    {
        List<string> bagKeys = [];
        foreach (BagDraft bag in burial.Bags)
        {
            string masses = $"{bag.Role}|{bag.InitialGrams}|{bag.FinalGrams}";
            bagKeys.Add($"{burial.Contribution.Contributor.Id}|{burial.SiteId}|{masses}");
            if (bag.ResolutionGrams <= 0.01) bagKeys.Add($"{burial.Contribution.Id}|{masses}");
        }

        string burialKey = string.Join('|', burial.Bags.Select(bag => $"{bag.InitialGrams}|{bag.FinalGrams}"));
        if (_burialMasses.Contains(burialKey) || bagKeys.Exists(_bagMasses.Contains)) return false;
        _burialMasses.Add(burialKey);
        _bagMasses.UnionWith(bagKeys);
        return true;
    }
}
