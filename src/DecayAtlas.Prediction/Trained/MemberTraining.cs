using MathNet.Numerics.Distributions;
using MathNet.Numerics.Random;

namespace DecayAtlas.Prediction.Trained;

/// <summary>
/// Trains the members of a model: blocks of sites drawn with replacement, as many as there are (Lahiri 2003, Resampling Methods for
/// Dependent Data, from memory), the errors of lots and batches and those of covariates drawn anew.
/// </summary>
internal static class MemberTraining
{
    private const int FewestPairs = 5;

    /// <summary>Members of the chosen candidate with its setting. Pairs of which one can't be trained are left out.</summary>
    /// <param name="progress">Told the share of them that is done.</param>
    /// <returns>The members, and what the choice of sites does to the prediction of each row whose block is held out: the variance over
    /// those pairs that never saw its block (Breiman 1996, Out-of-bag estimation, from memory), or over all where hardly any did
    /// not.</returns>
    /// <exception cref="PredictionException">Hardly any could be trained.</exception>
    public static (MemberSet Members, double[] OfHeldOut) Of(CovariateTable table, Candidate candidate, Setting chosen,
        TrainingOptions options, Action<double>? progress = null)
    {
        int[] blockOf = CrossValidationFolds.BlockOfRow(table.Rows, options.BlockDegrees);
        int blocks = blockOf.Max() + 1;
        int[][] rowsOf =
            [.. Enumerable.Range(0, blocks).Select(b => Enumerable.Range(0, table.Count).Where(r => blockOf[r] == b).ToArray())];
        SharedDraws draws = new(table, blockOf, blocks);
        LotErrors lots = new(table, blockOf);
        (double Least, double Most)[] ranges =
            [.. Enumerable.Range(0, table.Coding.Covariates).Select(c => (table.Rows.Min(r => (float)r.Covariates[c]),
                (double)table.Rows.Max(r => (float)r.Covariates[c])))];
        Func<MemberDraw, RatePredictor> fit = candidate.MemberFit(table, chosen, options);
        RatePredictor[]?[] pairs = new RatePredictor[]?[options.Members / 2];
        bool[][] sawBlock = new bool[pairs.Length][];
        Exception?[] faults = new Exception?[pairs.Length];
        int done = 0;
        Parallel.For(0, pairs.Length, pair =>
        {
            // its own numbers, so that neither order nor threads change a member; of seeds that follow each other the first numbers of
            // Random are alike
            MersenneTwister random = new(unchecked(options.Seed * 1_000_003 + pair), threadSafe: false);
            int[] drawn = [.. Enumerable.Range(0, blocks).Select(_ => random.Next(blocks))];
            sawBlock[pair] = [.. Enumerable.Range(0, blocks).Select(b => drawn.Contains(b))];
            int[] rows = [.. drawn.SelectMany(b => rowsOf[b])];
            double[] shifts = lots.LeftOf(draws.Draw(table.Count, random), random);
            Dictionary<string, double[]> offs = CovariateErrors(table, random);
            int seed = random.Next();
            try
            {
                pairs[pair] = [Fit(1), Fit(-1)];
            }
            catch (Exception e)
            {
                faults[pair] = e;
            }

            progress?.Invoke(Interlocked.Increment(ref done) / (double)pairs.Length);

            RatePredictor Fit(int sign) =>
                fit(new([.. table.Rows.Select((row, r) => Redrawn(row, sign * shifts[r], offs, ranges))], rows, seed));
        });
        if (faults.OfType<Exception>().Select(MachineFault.In).FirstOrDefault(f => f is not null) is { } fault)
            System.Runtime.ExceptionServices.ExceptionDispatchInfo.Throw(fault);
        RatePredictor[][] trained = [.. pairs.OfType<RatePredictor[]>()];
        if (trained.Length < Math.Min(FewestPairs, pairs.Length))
        {
            throw new PredictionException($"Of {pairs.Length} pairs of members of the model {trained.Length} could be trained, so "
                + $"nothing tells how sure it is ({LeftOutCandidate.ReasonOf(faults.OfType<Exception>().First())}).");
        }

        MemberSet members = new([.. trained.SelectMany(p => p)], blocks);
        bool[][] saw = [.. sawBlock.Where((_, pair) => pairs[pair] is not null)];
        double[] values = members.Predict(table.Features, table.Count, table.Places);
        return (members, [.. Enumerable.Range(0, table.Count).Select(OfHeldOut)]);

        double OfHeldOut(int row)
        {
            int[] blind = [.. Enumerable.Range(0, saw.Length).Where(pair => !saw[pair][blockOf[row]])];
            if (blind.Length < FewestPairs)
                blind = [.. Enumerable.Range(0, saw.Length)];
            return members.VariancesOf([.. blind.SelectMany(pair => new[] { 2 * pair, 2 * pair + 1 })
                .Select(m => values[m * table.Count + row])]).OfSites;
        }
    }

    /// <summary>One draw a site and covariate: a place stays where it is from campaign to campaign.</summary>
    private static Dictionary<string, double[]> CovariateErrors(CovariateTable table, Random random)
    {
        Dictionary<string, double[]> offs = new(StringComparer.Ordinal);
        foreach (TrainingRow row in table.Rows.Where(r => r.Errors.CovariateSds.Any(sd => sd > 0)).DistinctBy(r => r.SiteKey))
            offs[row.SiteKey] = [.. row.Errors.CovariateSds.Select(sd => sd > 0 ? Normal.Sample(random, 0, sd) : 0)];
        return offs;
    }

    private static TrainingRow Redrawn(TrainingRow row, double shift, Dictionary<string, double[]> offs,
        (double Least, double Most)[] ranges) => row with
        {
            Target = row.Target + shift,
            // what lies beyond all sites may be no such quantity any more, as moisture below 0
            Covariates = !offs.TryGetValue(row.SiteKey, out double[]? off) ? row.Covariates
                : [.. row.Covariates.Select((x, c) => Math.Clamp(x + off[c], ranges[c].Least, ranges[c].Most))],
        };
}
