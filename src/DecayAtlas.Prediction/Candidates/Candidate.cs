namespace DecayAtlas.Prediction.Candidates;

/// <summary>Hyper-parameters of one way of learning; a number that a candidate does not use is 0.</summary>
/// <param name="Penalty">Ridge (L2).</param>
public sealed record Setting(int Leaves = 0, int RowsPerLeaf = 0, double LearningRate = 0, double Penalty = 0)
{
    /// <summary>For people, for example "8 leaves, 5 rows a leaf".</summary>
    public override string ToString()
    {
        (bool IsUsed, string Words)[] parts =
        [
            (Leaves > 0, $"{Leaves} leaves"), (RowsPerLeaf > 0, $"{RowsPerLeaf} rows a leaf"),
            (LearningRate > 0, $"learning rate {LearningRate}"), (Penalty > 0, $"penalty {Penalty}"),
        ];
        return string.Join(", ", parts.Where(p => p.IsUsed).Select(p => p.Words).DefaultIfEmpty("nothing to set"));
    }
}

/// <summary>What a candidate learnt: what predicts, and what is saved.</summary>
internal sealed record FittedModel(RatePredictor Predictor, Func<SavedPredictor> Save)
{
    public static FittedModel Of(Formula formula) => new(new FormulaPredictor(formula), () => SavedPredictor.Of(formula));
}

/// <summary>What one member of a model learns from.</summary>
/// <param name="Rows">All rows of the table, the errors of lots, batches and covariates drawn anew.</param>
/// <param name="Drawn">Which of them were drawn, some twice and more.</param>
/// <param name="Seed">Of what else it draws; the same for both of a pair.</param>
internal sealed record MemberDraw(IReadOnlyList<TrainingRow> Rows, int[] Drawn, int Seed);

/// <summary>A way of learning the target from covariates.</summary>
internal abstract class Candidate(string name, string title)
{
    public string Name { get; } = name;

    public string Title { get; } = title;

    /// <summary>Whether it draws on where a place lies, and not on its covariates alone.</summary>
    public virtual bool KnowsPlaces => false;

    /// <summary>The settings that the search may choose from, the plainest first: of equals the first is taken.</summary>
    public abstract IReadOnlyList<Setting> Settings(TrainingOptions options);

    /// <summary>How one of many members of a model learns: as the model itself, unless that is slow.</summary>
    public virtual (Setting Setting, TrainingOptions Options) OfMember(Setting setting, TrainingOptions options) => (setting, options);

    /// <summary>How the members of a model of this table learn; safe to call from many threads.</summary>
    public virtual Func<MemberDraw, RatePredictor> MemberFit(CovariateTable table, Setting setting, TrainingOptions options)
    {
        (Setting lighter, TrainingOptions fewer) = OfMember(setting, options);
        return draw => Fit(table.Of([.. draw.Drawn.Select(r => draw.Rows[r])]), lighter, fewer).Predictor;
    }

    /// <summary>Trains on all rows. The same rows and setting give the same model; safe to call from many threads.</summary>
    public abstract FittedModel Fit(CovariateTable table, Setting setting, TrainingOptions options);
}

/// <summary>All ways of learning, from simple to flexible.</summary>
/// <param name="Baseline">The published response that a learned model must beat; missing where the configuration names no
/// temperature.</param>
/// <param name="Absent">Candidates that this machine cannot run, and why.</param>
internal sealed record CandidateSet(Candidate Mean, Candidate? Baseline, IReadOnlyList<Candidate> Learned, IReadOnlyList<string> Absent)
{
    public static CandidateSet Of(TrainingSet set, TrainingOptions options)
    {
        List<Candidate> learned = [new LinearCandidate(), new CurvedCandidate(), new ForestCandidate(), new BoostedTreesCandidate()];
        List<string> absent = [];
        if (LightGbmCandidate.WhyAbsent.Value is { } reason)
            absent.Add($"Gradient boosting (LightGBM) was not tried, because {reason}.");
        else
            learned.Add(new LightGbmCandidate());
        if (KrigingCandidate.WhyAbsent(set.Rows) is { } why)
            absent.Add($"Kriging was not tried, because {why}.");
        else
            learned.Add(new KrigingCandidate());
        return new(new MeanCandidate(), WarmthMoistureCandidate.Of(set, options), learned, absent);
    }
}
