namespace DecayAtlas.Questions.Released;

/// <summary>ln k or S of one site, campaign and treatment.</summary>
/// <param name="Row">A row of its burials.</param>
/// <param name="Value">With what other burials tell; its error and interval are on the same scale.</param>
/// <param name="Reliability">1 - error² / variance between such values.</param>
/// <param name="BorrowsFrom">Kinds of units whose other burials tell of it.</param>
public sealed record SiteValue(ReleasedPlot Row, UnitValue Value, double Reliability, IReadOnlyList<string> BorrowsFrom);

/// <summary>Values of all sites, or a statement why there are none.</summary>
public sealed record SiteValues(string Of, int Burials, string? Statement, IReadOnlyList<SiteValue> Values);

/// <summary>
/// Asks what k or S each site had in each campaign and treatment, all burials considered: with few burials of its own a value leans on what
/// its site was in other campaigns, and on its ecosystem, its campaign and all sites (<see cref="MixedFit.Values"/>).
/// </summary>
public static class SiteValueQuestion
{
    /// <summary>What has a value: comes first, so that a site of one campaign and treatment goes by it and not the other way.</summary>
    private static readonly UnitLevel Cell = new(UnitLevel.CampaignAtSite.Name, p => $"{p.SiteKey}\u001f{p.Campaign}\u001f{p.Treatment}");

    public static SiteValues Ask(ReleasedRates rates, AskedOf of)
    {
        string?[] treatments =
        [
            .. rates.Rows.Where(p => !p.IsUntreated).GroupBy(p => p.Treatment, StringComparer.Ordinal)
                .Where(g => g.Any(p => p.LnRateMean is not null) && g.Any(p => p.StabilisationMean is not null))
                .Select(g => g.Key).Order(StringComparer.Ordinal),
        ];
        ReleasedPlot[] plots = [.. rates.Rows.Where(p => p.IsUntreated || treatments.Contains(p.Treatment))];
        int burials = plots.Sum(p => JointModel.BurialsOf(p, of));
        // where it is not stated nothing but the site itself tells of it
        UnitLevel ecosystem = new("ecosystem", p => rates.SiteOf(p).Ecosystem ?? $"\u001f{p.SiteKey}");
        Answer<JointModel> answer = JointModel.Fit(
            rates, "site values", plots, [Cell, UnitLevel.Site, ecosystem, UnitLevel.Campaign, UnitLevel.Plot],
            p => [1, .. treatments.Select(t => t == p.Treatment ? 1.0 : 0)], of, required: 1);
        if (answer.Value is not { } model)
            return new(of.Code(), burials, answer.Statement!.Sentence, []);

        string[] around = [.. model.Levels.Where(l => l != Cell.Name && l != UnitLevel.Plot.Name)];
        double variance = model.Variances.Where(v => v.Level == Cell.Name || around.Contains(v.Level)).Sum(v => v.Variance);
        Dictionary<string, ReleasedPlot> rows = plots.Where(p => JointModel.Has(p, of)).GroupBy(Cell.UnitOf, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => g.First(), StringComparer.Ordinal);
        return new(of.Code(), burials, null,
        [
            .. model.Values(Cell.Name, around).Where(v => v.Burials > 0).Select(v => new SiteValue(
                rows[v.Unit], v, 1 - v.StandardError * v.StandardError / variance,
                [.. around.Where(l => l != ecosystem.Name || rates.SiteOf(rows[v.Unit]).Ecosystem is not null)])),
        ]);
    }

    /// <summary>What is another without noted burials.</summary>
    public static AnswerChange ChangeOf(SiteValues all, SiteValues without)
    {
        if (AnswerChanges.OfStatements(all.Statement, without.Statement) is { } told)
            return told;
        Dictionary<string, SiteValue> left = without.Values.ToDictionary(v => v.Value.Unit, StringComparer.Ordinal);
        int outside = all.Values.Count(v => left.TryGetValue(v.Value.Unit, out SiteValue? now)
            && !(now.Value.Value >= v.Value.Lower95 && now.Value.Value <= v.Value.Upper95));
        int gone = all.Values.Count(v => !left.ContainsKey(v.Value.Unit));
        return new(outside + gone > 0, $"{outside} of {Counted.Of(all.Values.Count, "value")} of {all.Of} lie outside the intervals that "
            + $"they have with them, and {gone} are gone.");
    }

    internal static IEnumerable<ReleasedSiteValue> RowsOf(SiteValues answer)
    {
        if (answer.Statement is { } statement)
            return [new ReleasedSiteValue { Of = answer.Of, Burials = answer.Burials, Statement = statement }];
        return answer.Of == AskedOf.Rate.Code()
            ? answer.Values.Select(v => RowOf(answer, v) with
            {
                OwnRatePerDay = Math.Exp(v.Value.RawMean!.Value),
                RatePerDay = Math.Exp(v.Value.Value),
                RateLower95PerDay = Math.Exp(v.Value.Lower95),
                RateUpper95PerDay = Math.Exp(v.Value.Upper95),
            })
            : answer.Values.Select(v => RowOf(answer, v) with
            {
                OwnStabilisation = v.Value.RawMean,
                Stabilisation = v.Value.Value,
                StabilisationLower95 = v.Value.Lower95,
                StabilisationUpper95 = v.Value.Upper95,
            });
    }

    private static ReleasedSiteValue RowOf(SiteValues answer, SiteValue v) => new()
    {
        Of = answer.Of,
        SiteKey = v.Row.SiteKey,
        Campaign = v.Row.Campaign,
        Treatment = v.Row.Treatment,
        Evidence = v.Row.Evidence,
        Burials = v.Value.Burials,
        PredictionError = v.Value.StandardError,
        DegreesOfFreedom = v.Value.DegreesOfFreedom,
        Reliability = v.Reliability,
        BorrowsFrom = v.BorrowsFrom.Count > 0 ? string.Join(", ", v.BorrowsFrom) : null,
    };
}
