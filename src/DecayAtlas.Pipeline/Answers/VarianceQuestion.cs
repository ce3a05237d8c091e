using DecayAtlas.Decomposition;
using DecayAtlas.Decomposition.Variance;

namespace DecayAtlas.Pipeline.Answers;

/// <summary>How much of the variance of ln k lies at one level.</summary>
/// <param name="Level">ecosystem, site, campaign (within site) or burial.</param>
/// <param name="Units">How many there are.</param>
/// <param name="Variance">Variance of ln k between them, within the level above.</param>
/// <param name="Share">That variance over the sum of all (1).</param>
/// <param name="ShareLower95">Lower end of its 95 % interval; missing for the last level.</param>
/// <param name="ShareUpper95">Upper end.</param>
public sealed record VarianceShare(string Level, int Units, double Variance, double Share, double? ShareLower95, double? ShareUpper95);

/// <summary>Where the scatter of k lies: numbers, or a statement why there are none.</summary>
/// <param name="Burials">Burials that took part.</param>
/// <param name="Statement">Why there are no shares; <see langword="null"/> where there are.</param>
/// <param name="Shares">Levels top to bottom.</param>
/// <param name="SiteCorrelation">Intraclass correlation of the burials of one site, in a model of sites alone.</param>
/// <param name="SiteCorrelationLower95">Lower end of its 95 % interval.</param>
/// <param name="SiteCorrelationUpper95">Upper end.</param>
public sealed record VarianceAnswer(
    int Burials, string? Statement, IReadOnlyList<VarianceShare> Shares,
    double? SiteCorrelation, double? SiteCorrelationLower95, double? SiteCorrelationUpper95);

/// <summary>Asks how the variance of ln k in untreated plots splits over ecosystems, sites and burials.</summary>
public static class VarianceQuestion
{
    private const string Campaign = "campaign", Burial = "burial";

    /// <summary>Splits the variance; campaigns are a level where sites took part in several.</summary>
    public static VarianceAnswer Ask(ReleasedRates rates)
    {
        Func<string, string?> ecosystemOf = rates.OfSite("ecosystem");
        ReleasedRate[] burials = [.. rates.Burials.Where(b => b.IsUntreated && ecosystemOf(b.SiteKey) is not null)];
        bool hasCampaigns = burials.Select(b => (b.SiteKey, b.Campaign)).Distinct().Count() > burials.Select(b => b.SiteKey).Distinct(StringComparer.Ordinal).Count();
        string[] levels = hasCampaigns ? ["ecosystem", "site", Campaign] : ["ecosystem", "site"];
        Answer<VarianceSplit> nested = VarianceComponents.Of(
            [.. burials.Select(b => new NestedValue(b.LnRate, [.. new[] { ecosystemOf(b.SiteKey)!, b.SiteKey, b.Campaign }.Take(levels.Length)]))], levels);
        VarianceComponent? alike = VarianceComponents.Of([.. burials.Select(b => new NestedValue(b.LnRate, [b.SiteKey]))], ["site"]).Value?.Components[0];
        return new VarianceAnswer(
            burials.Length,
            nested.Statement?.Sentence,
            [.. (nested.Value?.Components ?? []).Select((c, j) => new VarianceShare(
                j < levels.Length ? c.Level : Burial, c.Groups, c.Variance, c.Share, c.ShareLower95, c.ShareUpper95))],
            alike?.Share, alike?.ShareLower95, alike?.ShareUpper95);
    }
}
