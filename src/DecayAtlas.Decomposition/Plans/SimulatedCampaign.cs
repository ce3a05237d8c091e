using MathNet.Numerics.Statistics;

namespace DecayAtlas.Decomposition.Plans;

/// <summary>One campaign as a plan has it, drawn at random with its losses, and analysed as the real one would be: by the mixed model of
/// comparisons, every level random that is replicated in what is left. Where nothing is lost and groups are compared, that is the t test of
/// the means of sites (of their differences), which takes its place.</summary>
internal sealed class SimulatedCampaign
{
    private static readonly string[] Levels = ["campaign", "site", "campaign at site", "treated part", "plot"];

    private readonly PlannedDesign _design;
    private readonly PlanVariances _variances;
    private readonly RandomStream _random;
    private readonly List<MixedRecord> _records = [];
    private double? _spare;

    private SimulatedCampaign(PlannedDesign design, PlanVariances variances, RandomStream random) =>
        (_design, _variances, _random) = (design, variances, random);

    /// <returns>P of the difference; missing where the campaign gave no answer.</returns>
    public static double? Probability(PlannedDesign design, PlanVariances variances, double difference, RandomStream random)
    {
        SimulatedCampaign campaign = new(design, variances.AreUncertain ? variances.At(PlanVariances.Deviates(random)) : variances, random);
        campaign.Draw(difference);
        // whether seasons differ is what a plan says, not what a few campaigns can tell
        bool hasSeasons = design.Campaigns > 1 && (variances.Campaign.Variance > 0 || variances.Campaign.IsUncertain);
        return design.IsBalanced && design.Comparison != PlannedComparison.Again ? campaign.TestOfMeans() : campaign.Analyse(hasSeasons);
    }

    private void Draw(double difference)
    {
        bool isAgain = _design.Comparison == PlannedComparison.Again;
        double[] seasons = Effects(_variances.Campaign.Variance, _design.Campaigns);
        int sides = isAgain ? _design.Campaigns : 2;
        double[] lots = Effects(_design.HasOwnLots ? Math.Pow(_variances.LotError, 2) : 0, sides),
            batches = Effects(_design.HasOwnBatches ? Math.Pow(_variances.BatchError, 2) : 0, sides * _design.Campaigns);
        for (int site = 0; site < _design.SitesInAll; site++)
        {
            double atSite = Normal(_variances.Site.Variance);
            double[] parts = Effects(_variances.TreatmentAtSite.Variance, _design.Parts);
            double[] plots = Effects(_variances.Plot.Variance, _design.Parts * _design.Plots);
            for (int c = 0; c < _design.Campaigns; c++)
            {
                if (c > 0 && _random.NextUniform() < _design.Dropout)
                    break;
                double there = atSite + seasons[c] + Normal(_variances.CampaignAtSite.Variance);
                for (int plot = 0; plot < plots.Length; plot++)
                {
                    int part = plot / _design.Plots;
                    int side = isAgain ? c : _design.Comparison == PlannedComparison.Within ? part : site % 2;
                    double x = isAgain ? c / (_design.Campaigns - 1.0) - 0.5 : side - 0.5;
                    int batch = side * _design.Campaigns + c;
                    double value = there + (_design.Comparison == PlannedComparison.Within ? parts[part] : 0) + plots[plot]
                        + difference * x + lots[side] + batches[batch];
                    Bury(value, [$"c{c}", $"s{site}", $"s{site} c{c}", $"s{site} t{part}", $"s{site} p{plot}"], x, side, batch);
                }
            }
        }
    }

    private void Bury(double value, string[] units, double x, int lot, int batch)
    {
        int count = 0;
        double sum = 0, squares = 0;
        for (int i = 0; i < _design.Burials; i++)
        {
            double burial = Normal(_variances.Burial.Variance);
            if (_design.Loss > 0 && _random.NextUniform() < _design.Loss)
                continue;
            (count, sum, squares) = (count + 1, sum + burial, squares + burial * burial);
        }

        if (count == 0)
            return;
        _records.Add(new MixedRecord(value + sum / count, null, units, [1, x])
        {
            Count = count,
            SumsOfSquares = new OutcomeCovariance(Math.Max(0, squares - sum * sum / count)),
            Shared = [.. SharedErrors(lot, batch)],
        });
    }

    private IEnumerable<SharedLoading> SharedErrors(int lot, int batch)
    {
        if (_design.HasOwnLots && _variances.LotError > 0)
            yield return new SharedLoading($"lot {lot}", _variances.LotError);
        if (_design.HasOwnBatches && _variances.BatchError > 0)
            yield return new SharedLoading($"batch {batch}", _variances.BatchError);
    }

    private double? TestOfMeans()
    {
        // all records have equally many burials
        double[][] sides = [.. new[] { -0.5, 0.5 }.Select(x => _records.Where(r => r.FixedEffects[1] == x)
            .GroupBy(r => r.Units[1], StringComparer.Ordinal).Select(g => g.Average(r => r.First!.Value)).ToArray())];
        double difference = sides[1].Average() - sides[0].Average();
        int sites = sides[0].Length;
        double variance = (_design.Comparison == PlannedComparison.Within ? sides[1].Zip(sides[0], (b, a) => b - a).Variance()
            : sides[0].Variance() + sides[1].Variance()) / sites;
        double df = _design.Comparison == PlannedComparison.Within ? sites - 1 : 2 * (sites - 1);
        double known = _design.KnownVariance(_variances), share = variance / (variance + known);
        return FixedEffect.Of(difference, Math.Sqrt(variance + known), df / (share * share)).PValue;
    }

    private double? Analyse(bool hasSeasons)
    {
        if (_records.Count == 0)
            return null;
        List<int> kept = Replicated(hasSeasons);
        for (; ; kept.RemoveAt(kept.Count - 1))
        {
            Answer<MixedFit> fit = MixedModel.Fit(
                [.. _records.Select(r => r with { Units = [.. kept.Select(f => r.Units[f]!)] })],
                [.. kept.Select(f => new MixedFactor(Levels[f]))], 1);
            if (fit.Value is { } found)
                return found.Effect(0, [0, 1]).PValue;
            if (kept.Count == 0)
                return null;
        }
    }

    // a level counts where it holds several burials, and is not another by a second name
    private List<int> Replicated(bool hasSeasons)
    {
        int burials = _records.Sum(r => r.Count);
        List<int> kept = [];
        for (int f = 0; f < Levels.Length; f++)
        {
            int units = Count(r => r.Units[f]!);
            bool isCalledFor = f switch
            {
                0 => hasSeasons,
                2 => _design.Campaigns > 1,
                3 => _design.Comparison == PlannedComparison.Within,
                4 => _design.Plots > 1,
                _ => true,
            };
            if (isCalledFor && units > 1 && units < burials
                && !kept.Any(g => Count(r => r.Units[g]!) == units && Count(r => r.Units[g] + "\u001f" + r.Units[f]) == units))
            {
                kept.Add(f);
            }
        }

        return kept;

        int Count(Func<MixedRecord, string> unitOf) => _records.Select(unitOf).Distinct(StringComparer.Ordinal).Count();
    }

    private double[] Effects(double variance, int count) => [.. Enumerable.Range(0, count).Select(_ => Normal(variance))];

    private double Normal(double variance)
    {
        if (_spare is { } spare)
        {
            _spare = null;
            return spare * Math.Sqrt(variance);
        }

        (double first, _spare) = _random.NextNormalPair();
        return first * Math.Sqrt(variance);
    }
}
