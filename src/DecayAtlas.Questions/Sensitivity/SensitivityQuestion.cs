using MathNet.Numerics.Statistics;

namespace DecayAtlas.Questions.Sensitivity;

/// <summary>What suppositions would do to a release.</summary>
/// <param name="SitesLeftOut">Sites that were not drawn, of very many.</param>
/// <param name="NotRemade">Burials whose released k does not come out again under the assumptions given, to a billionth of it.</param>
/// <param name="Rows">By supposition, in order.</param>
public sealed record SensitivityAnswer(
    int Burials, int Sites, int SitesLeftOut, int NotRemade, IReadOnlyList<ReleasedSensitivity> Rows, IReadOnlyList<string> Cautions);

/// <summary>Asks how the k, S and answers of a release would change under suppositions: each is made again from the released weighings by
/// the functions that made them first, and compared burial by burial, site by site and answer by answer.</summary>
public static class SensitivityQuestion
{
    private const double SureBelow = 0.05;

    /// <summary>What differs by less has only been made again in other steps.</summary>
    private const double MadeAgain = 1e-9;

    /// <exception cref="ConfigurationException">No burial has an exposure of the days supposed.</exception>
    public static SensitivityAnswer Ask(IReleasedRows release, SensitivityBasis basis, OwnSupposition own)
    {
        SensitivityAnswer answer = Ask(release, basis, [own.Of(basis)]);
        if (own.Days is { } days && answer.Rows.All(r => r.Quantity is not ("k" or "s") || r.Compared is null))
        {
            throw new ConfigurationException(Invariant($"--days is {days.Shortest}..{days.Longest}, and none of the {answer.Burials} ")
                + "burials that count has such an exposure; nothing is left to compare.");
        }

        return answer;
    }

    public static SensitivityAnswer Ask(IReleasedRows release, SensitivityBasis basis) => Ask(release, basis, Suppositions.Of(basis));

    internal static SensitivityAnswer Ask(IReleasedRows release, SensitivityBasis basis, IReadOnlyList<Supposition> suppositions)
    {
        WeighingSample sample = WeighingSample.Of(release);
        ReleasedRates rates = new(release);
        SupposedRates asReleased = SupposedRates.Of(sample.Burials, new Supposition("released", ""), basis);
        int notRemade = sample.Burials.Zip(asReleased.Burials)
            .Count(b => b.First.Burial.RatePerDay is { } k && !(Math.Abs(k - (b.Second.Made.RatePerDay ?? 0)) <= 1e-9 * Math.Abs(k)));
        CovariatesOfPlots covariates = CovariatesOfPlots.Of(rates, basis.Covariates);
        IReadOnlyList<ToldWarmth> warmth = ToldWarmth.Of(rates, basis.Warmth);
        SupposedAnswers answers = SupposedAnswers.Of(rates, rates, asReleased, covariates, warmth);
        ReleasedSensitivity[][] rows = new ReleasedSensitivity[suppositions.Count][];
        Parallel.For(0, rows.Length, i => rows[i] = [.. RowsOf(suppositions[i])]);
        return new SensitivityAnswer(
            asReleased.Burials.Count(b => b.Counts), asReleased.LnRateOfSites.Count, sample.SitesLeftOut, notRemade,
            [.. rows.SelectMany(r => r)], [.. Cautions(sample, notRemade)]);

        IEnumerable<ReleasedSensitivity> RowsOf(Supposition supposed)
        {
            SupposedRates made = SupposedRates.Of(sample.Burials, supposed, basis);
            yield return Numbers(supposed, "k", "burial", Pairs(b => b.LnRate), isRatio: true);
            yield return Numbers(supposed, "s", "burial", Pairs(b => b.Counts ? b.Made.Stabilisation : null), isRatio: false);
            yield return Numbers(supposed, "site-k", "site", PairsOfSites(asReleased.LnRateOfSites, made.LnRateOfSites), isRatio: true);
            SupposedAnswers then = made.SameAs(asReleased) ? answers : SupposedAnswers.Of(answers.Rates, rates, made, covariates, warmth);
            foreach (string by in GroupQuestion.Groupings)
                yield return Groups(supposed, by, answers.Groups[by], then.Groups[by]);
            yield return Covariates(supposed, answers, then);
            yield return Ranking(supposed, answers, then);
            foreach (ToldWarmth told in warmth)
                yield return Warmth(supposed, told.Asked, answers.Warmth[told.Asked], then.Warmth[told.Asked]);

            (double? Before, double? After)[] Pairs(Func<SupposedBurial, double?> of) =>
                [.. asReleased.Burials.Zip(made.Burials, (a, b) => (of(a), of(b)))];
        }
    }

    private static (double? Before, double? After)[] PairsOfSites(
        IReadOnlyDictionary<string, double> before, IReadOnlyDictionary<string, double> after) =>
        [.. before.Keys.Union(after.Keys).Order(StringComparer.Ordinal).Select(s => (Of(before, s), Of(after, s)))];

    private static double? Of(IReadOnlyDictionary<string, double> values, string key) => values.TryGetValue(key, out double v) ? v : null;

    private static ReleasedSensitivity Numbers(
        Supposition supposed, string quantity, string what, (double? Before, double? After)[] pairs, bool isRatio)
    {
        double[] changes = [.. pairs.Where(p => p.Before is not null && p.After is not null).Select(p => p.After!.Value - p.Before!.Value)
            .Order()];
        int gone = pairs.Count(p => p.Before is not null && p.After is null);
        int come = pairs.Count(p => p.Before is null && p.After is not null);
        string name = quantity == "s" ? "S" : "k";
        if (changes.Length == 0)
            return Row(supposed, quantity, $"No {what} has {name} either way.");

        double[] concerned = [.. changes.Where(c => Math.Abs(c) > MadeAgain)];
        double[] of = [.. Shares.Select(share => concerned.Length == 0 ? 0
                : SortedArrayStatistics.QuantileCustom(concerned, share, QuantileDefinition.R7))
            .Select(c => isRatio ? Math.Exp(c) : c)];
        Func<double, string> tell = isRatio ? Change : Side;
        string[] said = [.. of.Select(tell)];
        string those = concerned.Length == changes.Length ? Counted.Of(changes.Length, what)
            : $"the {concerned.Length} it concerns, of {Counted.Of(changes.Length, what)}";
        string change = said.Distinct().Count() == 1 ? $"{name} would be {said[0]} in nine of ten of {those}"
            : $"{name} would be {said[0]} in the middle one of {those}, and from {said[1]} to {said[2]} in nine of ten";
        string sentence = $"{(concerned.Length == 0 ? $"{name} of {Counted.Of(changes.Length, what)} would be the same" : change)}"
            + (gone > 0 ? $"; {Counted.Of(gone, what)} would have none" : "")
            + (come > 0 ? $"; {Counted.Of(come, what)} would come in" : "") + ".";
        return Row(supposed, quantity, sentence) with
        {
            Compared = changes.Length,
            Gone = gone,
            Come = come,
            Concerned = concerned.Length,
            Median = of[0],
            Lower5 = of[1],
            Upper95 = of[2],
        };
    }

    private static ReleasedSensitivity Groups(Supposition supposed, string by, GroupAnswer before, GroupAnswer after)
    {
        Dictionary<(string, string), GroupPair> now = before.Pairs.ToDictionary(KeyOf), then = after.Pairs.ToDictionary(KeyOf);
        (string, string)[] both = [.. now.Keys.Where(then.ContainsKey)];
        if (both.Length == 0)
            return Row(supposed, by, before.Statement ?? after.Statement ?? "No pair of groups is compared both ways.");
        string[] changes = [.. both.Select(pair => ChangeOf(by, now[pair], then[pair])).OfType<string>()];
        return Row(supposed, by, changes.Length == 0
            ? $"What is concluded of {Counted.Of(both.Length, "pair")} of {by} would stay."
            : $"Of {Counted.Of(both.Length, "pair")} of {by} {changes.Length} would be concluded otherwise: "
                + $"{string.Join("; ", changes)}.") with
        {
            Compared = both.Length,
            Gone = now.Count - both.Length,
            Come = then.Count - both.Length,
            Changed = changes.Length,
        };
    }

    private static (string, string) KeyOf(GroupPair pair) =>
        string.CompareOrdinal(pair.First, pair.Second) < 0 ? (pair.First, pair.Second) : (pair.Second, pair.First);

    private static string? ChangeOf(string by, GroupPair now, GroupPair then)
    {
        string pair = $"{GroupQuestion.NameOf(by, now.Second)} and {GroupQuestion.NameOf(by, now.First)}";
        return (now.IsToldApart, then.IsToldApart) switch
        {
            (true, false) => $"{pair} would no longer be told apart",
            (false, true) => $"{pair} would be told apart",
            (true, true) when now.Second != then.Second => $"the faster of {pair} would be the other one",
            _ => null,
        };
    }

    private static ReleasedSensitivity Covariates(Supposition supposed, SupposedAnswers before, SupposedAnswers after)
    {
        if (before.Lines.Value is not { } now || after.Lines.Value is not { } then)
            return NotComputed(supposed, "covariates", before, after);
        string[] changes =
        [
            .. now.Lines.Zip(then.Lines).Where(c => c.First.PValue < SureBelow != c.Second.PValue < SureBelow)
                .Select(c => c.First.PValue < SureBelow ? $"{c.First.Name} would no longer" : $"{c.First.Name} would too"),
        ];
        string matter = string.Join(", ",
            now.Lines.Where(c => c.PValue < SureBelow).OrderByDescending(c => Math.Abs(c.Slope)).Select(c => c.Name));
        string sentence =
            $"In one linear model of ln k over sites {(matter == "" ? "no covariate matters" : $"{matter} matter")} (P < 0.05, "
            + $"the strongest first){(changes.Length == 0 ? ", and would stay so" : $"; {string.Join(", ", changes)} matter")}.";
        return Row(supposed, "covariates", sentence) with { Compared = now.Lines.Count, Changed = changes.Length };
    }

    private static ReleasedSensitivity Ranking(Supposition supposed, SupposedAnswers before, SupposedAnswers after)
    {
        if (before.Lines.Value is not { } now || after.Lines.Value is not { } then)
            return NotComputed(supposed, "map-ranking", before, after);
        double correlation = now.RankCorrelation(then, before.Places);
        string sentence =
            Invariant($"{before.Places.Count} sites, ranked by the ln k that a linear model of the covariates foretells, would ")
            + Invariant($"keep their order to a Spearman correlation of {correlation:0.0000}.");
        return Row(supposed, "map-ranking", sentence) with { Compared = before.Places.Count, RankCorrelation = correlation };
    }

    private static ReleasedSensitivity Warmth(Supposition supposed, AskedOf of, FittedWarmth? before, FittedWarmth? after)
    {
        string quantity = ReleasedSensitivity.WarmthOf(of.Code());
        if (before is null || after is null)
            return Row(supposed, quantity, $"How {of.Symbol()} goes with warmth can't be told either way.");
        (IntervalEstimate now, IntervalEstimate then) = (before.PerTenKelvin, after.PerTenKelvin);
        bool isRate = of == AskedOf.Rate, isOutside = then.Value < now.Lower95 || then.Value > now.Upper95;
        string parameter = after.Form switch
        {
            "lloyd-taylor" => Invariant($", and E0 {after.Sensitivity.Value:0} K in place of {before.Sensitivity.Value:0} K"),
            "arrhenius" => Invariant($", and E {after.Sensitivity.Value:0.0} kJ/mol in place of {before.Sensitivity.Value:0.0}"),
            _ => "",
        };
        string sentence = isRate
            ? Invariant($"k at 20 °C would be {then.Value:0.00} times that at 10 °C ({then.Lower95:0.00} to {then.Upper95:0.00}) in ")
                + Invariant($"place of {now.Value:0.00} ({now.Lower95:0.00} to {now.Upper95:0.00}){parameter}")
            : Invariant($"S would change by {then.Value:0.000} per 10 K ({then.Lower95:0.000} to {then.Upper95:0.000}) in place of ")
                + Invariant($"{now.Value:0.000} ({now.Lower95:0.000} to {now.Upper95:0.000})");
        string by = $"; by {after.Form}, moisture {after.Moisture}, with the scatter that the release has.";
        return Row(supposed, quantity, sentence + by) with
        {
            Compared = 1,
            Changed = isOutside ? 1 : 0,
            WarmthAsReleased = now.Value,
            WarmthAsSupposed = then.Value,
            WarmthLower95 = then.Lower95,
            WarmthUpper95 = then.Upper95,
        };
    }

    // the median, and where nine of ten lie
    private static readonly double[] Shares = [0.5, 0.05, 0.95];

    private static ReleasedSensitivity NotComputed(
        Supposition supposed, string quantity, SupposedAnswers before, SupposedAnswers after) =>
        Row(supposed, quantity, (before.Lines.Statement ?? after.Lines.Statement)!.Sentence);

    private static ReleasedSensitivity Row(Supposition supposed, string quantity, string sentence) => new()
    {
        Supposition = supposed.Id,
        Supposed = supposed.Title,
        Quantity = quantity,
        Sentence = sentence,
    };

    private static string Change(double ratio) => Invariant($"{100 * (ratio - 1):0.0} %") switch
    {
        "0.0 %" or "-0.0 %" => "the same",
        var percent => ratio < 1 ? $"{percent[1..]} lower" : $"{percent} higher",
    };

    private static string Side(double difference) => Invariant($"{Math.Abs(difference):0.000}") switch
    {
        "0.000" => "the same",
        var size => difference < 0 ? $"{size} lower" : $"{size} higher",
    };

    private static IEnumerable<string> Cautions(WeighingSample sample, int notRemade)
    {
        if (sample.SitesLeftOut > 0)
        {
            yield return $"{sample.SitesLeftOut} sites were left out: of very many, whole sites are drawn by a fixed seed. Both sides of "
                + "each comparison are of the same sites.";
        }

        if (notRemade > 0)
        {
            yield return $"{notRemade} burials do not come out as released under the assumptions of this configuration: it says something "
                + "else than it did when the release was made.";
        }

        yield return "What is supposed holds for all litter alike. Flags are as released, but for the limits of exposure and plateau.";
    }
}
