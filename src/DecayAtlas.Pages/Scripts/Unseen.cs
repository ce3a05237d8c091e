namespace DecayAtlas.Pages.Scripts;

/// <summary>What was predicted of each site while it and all round it were kept from the model, held against what was measured
/// there.</summary>
internal sealed record Unseen(IReadOnlyDictionary<string, double> LnRates, IReadOnlyDictionary<string, double> Stabilisations)
{
    private static readonly IReadOnlyDictionary<string, double> None = new Dictionary<string, double>();

    public static Unseen Of(PagesInputs inputs) =>
        new(inputs.Model?.Unseen ?? None, inputs.StabilisationModel?.Unseen ?? None);

    public double? RateOf(string site) => LnRates.TryGetValue(site, out double ln) ? Math.Exp(ln) : null;

    public double? StabilisationOf(string site) => Stabilisations.TryGetValue(site, out double s) ? s : null;

    /// <summary>ln of k measured over k predicted.</summary>
    public IEnumerable<double> OffByLn(IEnumerable<SiteRate> rates) =>
        rates.Where(r => r.RatePerDay is not null && RateOf(r.Site.SiteKey) is not null)
            .Select(r => Math.Log(r.RatePerDay!.Value) - LnRates[r.Site.SiteKey]);

    /// <summary>S measured less S predicted.</summary>
    public IEnumerable<double> Off(IEnumerable<SiteRate> rates) =>
        rates.Where(r => r.Stabilisation is not null && StabilisationOf(r.Site.SiteKey) is not null)
            .Select(r => r.Stabilisation!.Value - Stabilisations[r.Site.SiteKey]);
}
