namespace DecayAtlas.Questions.Slopes;

/// <summary>How ln k or S moves with numbers that are known of each row, by the joint model: sites, blocks of sites, campaigns and plots
/// random, seasons fixed where they are few.</summary>
internal sealed class SlopeModel
{
    private readonly int _width;
    private readonly IReadOnlyList<(ReleasedPlot Row, double[] X)> _rows;

    private SlopeModel(JointModel model, IReadOnlyList<(ReleasedPlot, double[])> rows, int width, IReadOnlyList<string> levels) =>
        (Model, _rows, _width, Levels) = (model, rows, width, levels);

    public JointModel Model { get; }

    /// <summary>What the intervals hold the scatter of, as it is told.</summary>
    public IReadOnlyList<string> Levels { get; }

    /// <param name="question">What is asked, the same for k and S.</param>
    /// <param name="asked">Columns of X after the constant, as they are.</param>
    /// <param name="adjusted">Further numbers of a row, taken from their means.</param>
    /// <param name="blockDegrees">Side of the blocks of sites; 0 for none.</param>
    /// <param name="isAlone">Of one outcome, so that likelihoods compare.</param>
    public static Answer<SlopeModel> Fit(
        ReleasedRates rates, string question, ReleasedPlot[] rows, IReadOnlyList<Func<ReleasedPlot, double>> asked,
        Func<ReleasedPlot, double[]> adjusted, CampaignEffects seasons, double blockDegrees, AskedOf of, bool isAlone = false)
    {
        double burials = rows.Sum(r => r.Burials);
        int others = rows.Length == 0 ? 0 : adjusted(rows[0]).Length;
        double[] centre = [.. Enumerable.Range(0, others).Select(c => rows.Sum(r => r.Burials * adjusted(r)[c]) / burials)];
        Answer<SlopeModel> answer = With(seasons);
        // where what is asked moves with the seasons, these can't be taken off
        return answer.Value is null && seasons.Count > 0 && With(CampaignEffects.None) is { Value: not null } without ? without : answer;

        Answer<SlopeModel> With(CampaignEffects taken)
        {
            Func<ReleasedPlot, double[]> x =
                r => [1, .. asked.Select(a => a(r)), .. adjusted(r).Select((v, c) => v - centre[c]), .. taken.RowOf(r)];
            Answer<JointModel> answer = JointModel.Fit(
                rates, $"{question} {taken.Count} {blockDegrees:R}", rows, LevelsOf(rates, blockDegrees, taken), x, of, isAlone: isAlone);
            return answer.Value is not { } model ? answer.Statement! : new SlopeModel(
                model, [.. rows.Where(r => JointModel.Has(r, of)).Select(r => (r, x(r)))], 1 + asked.Count + others + taken.Count,
                [.. model.Levels, .. taken.Count > 0 ? (string[])["campaign (as fixed)"] : []]);
        }
    }

    private static UnitLevel[] LevelsOf(ReleasedRates rates, double blockDegrees, CampaignEffects seasons) =>
    [
        UnitLevel.Site, .. blockDegrees > 0 ? (UnitLevel[])[SiteBlocks.LevelOf(rates, blockDegrees)] : [],
        .. seasons.Count > 0 ? [] : (UnitLevel[])[UnitLevel.Campaign], UnitLevel.CampaignAtSite, UnitLevel.Plot,
    ];

    /// <summary>A combination of the constant (0), what was asked (from 1) and what was adjusted for, in this order.</summary>
    public FixedEffect Effect(params (int Column, double Times)[] parts)
    {
        double[] contrast = new double[_width];
        foreach ((int column, double times) in parts)
            contrast[column] += times;
        return Model.Effect(contrast);
    }

    /// <summary>Share of the variance of burials that X explains: var(x β)/(var(x β) + all variances), known errors left out.</summary>
    /// <remarks>Marginal R²: Nakagawa and Schielzeth 2013, Methods in Ecology and Evolution 4:133-142 (from memory).</remarks>
    public double ShareExplained
    {
        get
        {
            IReadOnlyList<double> b = Model.FixedEffects;
            double burials = _rows.Sum(r => r.Row.Burials), mean = Mean(f => f), squares = Mean(f => (f - mean) * (f - mean));
            return squares / (squares + Model.Variances.Sum(v => v.Variance));

            double Mean(Func<double, double> of) => _rows.Sum(r => r.Row.Burials * of(r.X.Zip(b, (x, y) => x * y).Sum())) / burials;
        }
    }

    /// <summary>AICc at the variances of restricted likelihood, its part of the fixed effects taken off, so that models of other X
    /// compare; of a model of one outcome.</summary>
    /// <param name="sites">What counts as independent values, since what is asked moves from site to site (common practice, no
    /// source).</param>
    /// <remarks>-2 l = -2 l_R + log|cov(β)| + p log 2π (Patterson and Thompson 1971; Hurvich and Tsai 1989 for AICc, from memory). The
    /// variances are not fitted anew, which costs a difference of the order of 1/sites.</remarks>
    public double? AiccOver(int sites)
    {
        int parameters = _width + Model.Variances.Count;
        return sites - parameters < 2 ? null
            : Model.Deviance + 2 * parameters * (double)sites / (sites - parameters - 1);
    }

    /// <summary>How the values of sites that are left, after all that is fitted and their block, resemble those near them; missing where no
    /// site effects were fitted.</summary>
    /// <param name="degrees">How near, as degrees of latitude.</param>
    public MoransI? Neighbours(ReleasedRates rates, double degrees)
    {
        if (!Model.Levels.Contains(UnitLevel.Site.Name))
            return null;
        Dictionary<string, ReleasedSite> sites = _rows.DistinctBy(r => r.Row.SiteKey)
            .ToDictionary(r => r.Row.SiteKey, r => rates.SiteOf(r.Row), StringComparer.Ordinal);
        (double North, double East, double Effect)[] placed =
        [
            .. Model.Values(UnitLevel.Site.Name).Where(v => sites.ContainsKey(v.Unit)).Select(v => (sites[v.Unit], v.Effect))
                .Where(s => s.Item1 is { LatitudeDegrees: not null, LongitudeDegrees: not null })
                .Select(s => (s.Item1.LatitudeDegrees!.Value, s.Item1.LongitudeDegrees!.Value, s.Effect)).Order(),
        ];
        List<(int, int)> near = new();
        for (int i = 0; i < placed.Length; i++)
        {
            // in order of latitude
            for (int j = i + 1; j < placed.Length && placed[j].North - placed[i].North <= degrees; j++)
            {
                if (DegreesApart(placed[i], placed[j]) <= degrees)
                    near.Add((i, j));
            }
        }

        return MoransI.Of([.. placed.Select(p => p.Effect)], near).Value;
    }

    /// <summary>Degrees of a great circle (haversine).</summary>
    private static double DegreesApart((double North, double East, double) a, (double North, double East, double) b)
    {
        double half = Half(a.North - b.North) + Math.Cos(Radians(a.North)) * Math.Cos(Radians(b.North)) * Half(a.East - b.East);
        return 2 * Math.Asin(Math.Sqrt(Math.Min(1, half))) * 180 / Math.PI;

        static double Half(double degrees) => Math.Pow(Math.Sin(Radians(degrees) / 2), 2);

        static double Radians(double degrees) => degrees * Math.PI / 180;
    }
}
