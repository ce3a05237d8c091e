namespace DecayAtlas.Pipeline.CrossCheck;

/// <summary>Sites whose k or S is far from what a model of all other regions and the sites most alike let expect.</summary>
internal sealed record SurpriseCheck() : FlagDefinition(
    FlagFamily.Outlier, "surprise", Severity.Note, RecordKind.Site,
    "Mean ln k or S of the site is far from what a model of other regions expects from its covariates, and outside what the sites most "
    + "alike have. A wrong place, wrong litter or wrong dates look like this; so does a real discovery.",
    "|observed - expected|/sd > surprise_limit, and outside the range of the 10 sites of other folds with the most similar covariates. "
    + "Expected: robust regression (Huber) on all numeric covariates and their squares, fitted without the fold of spatial blocks "
    + "(surprise_block_degrees) that holds the site; sd: scatter between sites, the site's replicates, and the fit. Accepted sites, "
    + "untreated plots. Needs numeric grids and ten rows a term (five, without squares, at the least). It does not depend on the "
    + "trained model.",
    "Check coordinates, dates, lots and masses. If they are right, look at the soil: this is where something is to be learnt.")
{
    public override bool CastsDoubt => true;

    [Setting("surprise_limit", "standard deviations, 2 or more", "Distance from what is expected beyond which a site is noted", Least = 2)]
    public double SurpriseLimit { get; init; } = 4;

    [Setting("surprise_block_degrees", "degrees above 0 and at most 180", "Side of the spatial blocks that are left out together",
        Above = 0, Most = 180)]
    public double SurpriseBlockDegrees { get; init; } = 1;

    /// <summary>How many of the sites most alike are asked (common practice, no source).</summary>
    private const int Alike = 10;

    private const int Folds = 5;

    /// <param name="Quantity">ln k or S.</param>
    /// <param name="Residuals">Observed less expected of each contribution's sites, sensitive ones left out.</param>
    public sealed record Result(string Quantity, IReadOnlyList<Flag> Flags, IReadOnlyDictionary<string, SampleSummary> Residuals,
        string? NotJudged);

    public IReadOnlyList<Result> Raise(IReadOnlyList<Evidence> evidence) =>
    [
        Of("ln k", evidence, s => s.LnRate),
        Of("S", evidence, s => s.Stabilisation),
    ];

    private Result Of(string quantity, IReadOnlyList<Evidence> evidence, Func<SiteEvidence, SampleSummary?> mean)
    {
        SiteEvidence[] sites = [.. evidence.SelectMany(e => e.Sites).Where(s => mean(s) is not null)];
        // a covariate that half of the sites lack would cost more sites than it tells
        int[] columns = sites.Length == 0 ? []
            : [.. Enumerable.Range(0, sites[0].Covariates.Count)
                .Where(c => sites.Count(s => double.IsFinite(s.Covariates[c])) > sites.Length / 2)];
        sites = [.. sites.Where(s => columns.All(c => double.IsFinite(s.Covariates[c])))];
        int freedom = sites.Sum(s => mean(s)!.Count - 1);
        double within = freedom == 0 ? 0 : sites.Sum(s => (mean(s)!.Count - 1) * Math.Pow(mean(s)!.Sd ?? 0, 2)) / freedom;
        int[] folds = FoldsOf(sites, SurpriseBlockDegrees);
        FoldedRow[] rows = [
            .. sites.Select((s, i) =>
                new FoldedRow(mean(s)!.Mean, within / mean(s)!.Count, folds[i], [.. columns.Select(c => s.Covariates[c])],
                    !s.IsSensitive))];
        Answer<OutOfFoldValues> answer = OutOfFold.Of(rows);
        if (answer.Value is not { } judged)
            return new Result(quantity, [], new Dictionary<string, SampleSummary>(), answer.Statement!.Sentence);

        Dictionary<string, SampleSummary> residuals = Enumerable.Range(0, rows.Length).Where(i => !sites[i].IsSensitive)
            .GroupBy(i => sites[i].ContributionId, StringComparer.Ordinal)
            .ToDictionary(g => g.Key, g => SampleSummary.Of([.. g.Select(i => rows[i].Value - judged.Values[i].Expected)])!,
                StringComparer.Ordinal);
        Flag[] flags =
        [
            .. from i in Enumerable.Range(0, rows.Length)
               where Math.Abs(judged.Values[i].Score) > SurpriseLimit
               let alike = MostAlike(rows, i)
               where !(rows[i].Value >= alike.Min() && rows[i].Value <= alike.Max())
               select Of(quantity, sites[i], rows[i], judged.Values[i], alike),
        ];
        return new Result(quantity, flags, residuals, null);
    }

    private Flag Of(string quantity, SiteEvidence site, FoldedRow row, OutOfFoldValue expected, double[] alike) => site.IsSensitive
        // what is expected comes from the covariates of the exact point: it must not go out
        ? FlagOn(site.SiteContributionId, site.SiteId, new("Numbers withheld: the site is marked sensitive."))
        : FlagOn(site.SiteContributionId, site.SiteId, new(string.Create(InvariantCulture,
            $"In campaign {site.Campaign} the mean {quantity} is {row.Value:0.00}. A model that had not seen the region expects "
            + $"{expected.Expected:0.00} ± {expected.Sd:0.00} from its covariates, and the {alike.Length} sites most alike have "
            + $"{alike.Min():0.00} to {alike.Max():0.00}: {Math.Abs(expected.Score):0.0} standard deviations, limit {SurpriseLimit:0.0}."),
            Math.Abs(expected.Score), SurpriseLimit, "1"));

    /// <summary>The values of the sites outside the row's fold whose standardised covariates are nearest.</summary>
    private static double[] MostAlike(FoldedRow[] rows, int at)
    {
        FoldedRow[] others = [.. rows.Where(r => r.IsLearnt && r.Fold != rows[at].Fold)];
        int columns = rows[at].X.Length;
        double[] scale = new double[columns];
        for (int c = 0; c < columns; c++)
        {
            double mean = others.Average(r => r.X[c]), sd = Math.Sqrt(others.Average(r => (r.X[c] - mean) * (r.X[c] - mean)));
            scale[c] = sd > 0 ? sd : 1;
        }

        return [.. others.OrderBy(r => Enumerable.Range(0, columns).Sum(c => Math.Pow((r.X[c] - rows[at].X[c]) / scale[c], 2))).Take(Alike)
            .Select(r => r.Value)];
    }

    /// <summary>Whole spatial blocks, largest first, each to the fold with fewest sites so far.</summary>
    private static int[] FoldsOf(SiteEvidence[] sites, double blockDegrees)
    {
        int[] folds = new int[sites.Length];
        int[] sizes = new int[Folds];
        foreach (int[] block in Enumerable.Range(0, sites.Length)
            .GroupBy(
                i => ((int)Math.Floor(sites[i].LatitudeDegrees / blockDegrees), (int)Math.Floor(sites[i].LongitudeDegrees / blockDegrees)))
            .OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => g.ToArray()))
        {
            int smallest = Array.IndexOf(sizes, sizes.Min());
            sizes[smallest] += block.Length;
            foreach (int i in block)
                folds[i] = smallest;
        }

        return folds;
    }
}
