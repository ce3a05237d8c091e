using System.Globalization;

namespace DecayAtlas.Questions.Tests.Simulated;

/// <summary>One number of an answer beside the truth; of k on the scale of ln k. Without ends where there was no answer.</summary>
internal sealed record WeighedAnswer(string What, double Truth, double Value, double Lower95, double Upper95)
{
    public bool IsGiven => !double.IsNaN(Value);

    public bool Holds => Lower95 <= Truth && Truth <= Upper95;
}

/// <summary>What is asked of a <see cref="WeighedRelease"/>, as on the command line.</summary>
internal static class WeighedAnswers
{
    public static IEnumerable<WeighedAnswer> OfGroups(WeighedDesign design, WeighedRelease release)
    {
        ReleasedRates rates = new(release);
        foreach (AskedOf of in Enum.GetValues<AskedOf>())
        {
            bool isRate = of == AskedOf.Rate;
            foreach (GroupPair p in GroupQuestion.Ask(rates, "ecosystem", [], of).Pairs)
                yield return OfPair("ecosystems", p, EcosystemOf(p.Second) - EcosystemOf(p.First), of);
            double warming = isRate ? design.Warming.LnRate : design.Warming.Stabilisation;
            foreach (GroupPair p in GroupQuestion.Ask(rates, "treatment", [], of).Pairs)
                yield return OfPair("warmed plots", p, p.Second == "warmed" ? warming : -warming, of);
            foreach (SiteValue v in SiteValueQuestion.Ask(rates, of).Values)
            {
                (double lnRate, double s) = release.Truth[(v.Row.SiteKey, v.Row.Campaign, v.Row.Treatment)];
                yield return new(
                    $"site values, {of.Scale()}", isRate ? lnRate : s, v.Value.Value, v.Value.Lower95, v.Value.Upper95);
            }

            double EcosystemOf(string name) => release.Ecosystems[int.Parse(name[1..], CultureInfo.InvariantCulture)] is var e && isRate
                ? e.LnRate : e.Stabilisation;
        }
    }

    private static WeighedAnswer OfPair(string what, GroupPair p, double truth, AskedOf of)
    {
        // pairs come in order of what was found, which would make each difference too large
        int sign = string.CompareOrdinal(p.First, p.Second) < 0 ? 1 : -1;
        double[] ends = [sign * Told(p.Lower95!.Value), sign * Told(p.Upper95!.Value)];
        return new($"{what}, {of.Scale()}", sign * truth, sign * Told(p.Contrast), ends.Min(), ends.Max());

        double Told(double x) => of == AskedOf.Rate ? Math.Log(x) : x;
    }

    /// <summary>Probabilities of every pair that a release compares.</summary>
    public static double[] OfPairs(WeighedRelease release)
    {
        ReleasedRates rates = new(release);
        return [.. GroupQuestion.Groupings.SelectMany(by => Enum.GetValues<AskedOf>()
            .SelectMany(of => GroupQuestion.Ask(rates, by, [], of).Pairs.Select(p => p.PValue ?? 1)))];
    }

    /// <summary>Shares of variance, where each level is fitted: else others hold it.</summary>
    public static IEnumerable<WeighedAnswer> OfShares(WeighedDesign design, WeighedRelease release)
    {
        ReleasedRates rates = new(release);
        Dictionary<string, double> variances = new Dictionary<string, double>
        {
            ["ecosystem"] = design.Ecosystem,
            ["site"] = design.Site,
            ["campaign"] = design.Season,
            ["campaign at site"] = design.SeasonAtSite,
            ["plot"] = design.Plot,
            ["burial"] = design.Burial,
        }.ToDictionary(l => l.Key, l => l.Value * l.Value);
        double all = variances.Values.Sum();
        foreach (AskedOf of in Enum.GetValues<AskedOf>())
        {
            IReadOnlyList<VarianceShare> shares = VarianceQuestion.Ask(rates, of).Shares;
            foreach (VarianceShare s in shares.Count == variances.Count ? shares : [])
            {
                yield return new(
                    $"share of {s.Level}, {of.Scale()}", variances[s.Level] / all, s.Share, s.ShareLower95 ?? 0, s.ShareUpper95 ?? 1);
            }
        }
    }

    public static IEnumerable<WeighedAnswer> OfSlopes(WeighedDesign design, WeighedRelease release)
    {
        ReleasedRates rates = new(release);
        WarmthRequest warmth = new("temperature", null, ["moisture", "acidity"]);
        RelateRequest acidity = new("acidity", ["temperature", "moisture"]);
        TrendRequest years = new(["temperature", "moisture", "acidity"]);
        WarmthAnswer k = WarmthQuestion.Ask(rates, warmth), s = WarmthQuestion.Ask(rates, warmth, AskedOf.Stabilisation);
        yield return Of("E0", design.E0, k.Responses.FirstOrDefault(r => r.Form == "lloyd-taylor")?.Sensitivity);
        yield return Log(
            "ln Q10 by the best form", design.E0 * (1 / 56.02 - 1 / 66.02), k.Responses is [{ } best, ..] ? best.PerTenKelvin : null);
        yield return Log("ln Q10 over forms", design.E0 * (1 / 56.02 - 1 / 66.02),
            k.OverForms ?? (k.Responses is [{ } alone, ..] ? alone.PerTenKelvin : null));
        yield return Of("S per 10 K", design.StabilisationPerTenKelvin, s.Responses is [{ } line, ..] ? line.PerTenKelvin : null);
        foreach (AskedOf of in Enum.GetValues<AskedOf>())
        {
            bool isRate = of == AskedOf.Rate;
            yield return Of(
                $"acidity, {of.Scale()}", isRate ? design.PerAcidity.LnRate : design.PerAcidity.Stabilisation,
                RelateQuestion.Ask(rates, acidity, of).Slope?.PerUnit);
            IntervalEstimate? year = TrendQuestion.Ask(rates, years, of).Slopes is [{ } slope, ..] ? slope.PerYear : null;
            yield return isRate ? Log("year, ln k", design.PerYear.LnRate, year) : Of("year, S", design.PerYear.Stabilisation, year);
        }

        static WeighedAnswer Of(string what, double truth, IntervalEstimate? e) =>
            e is { } x ? new(what, truth, x.Value, x.Lower95, x.Upper95) : new(what, truth, double.NaN, double.NaN, double.NaN);

        static WeighedAnswer Log(string what, double truth, IntervalEstimate? e) =>
            Of(what, truth, e is { } x ? new IntervalEstimate(Math.Log(x.Value), Math.Log(x.Lower95), Math.Log(x.Upper95)) : null);
    }
}
