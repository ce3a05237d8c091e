namespace DecayAtlas.Prediction.Validation;

/// <summary>
/// Which fold holds each row out. A site never stands on both sides: sites that return in many campaigns would otherwise let
/// a model recall the answer instead of predicting it.
/// </summary>
internal sealed class CrossValidationFolds
{
    private readonly int[][] _heldOut;
    private readonly int[][] _training;

    private CrossValidationFolds(IReadOnlyList<TrainingRow> rows, int[] foldOfRow, int count, int groups, IReadOnlyList<string> names)
    {
        (FoldOfRow, Count, Groups, Names) = (foldOfRow, count, groups, names);
        _heldOut = [.. Enumerable.Range(0, count).Select(f => Enumerable.Range(0, rows.Count).Where(r => foldOfRow[r] == f).ToArray())];
        _training = [.. _heldOut.Select(held =>
        {
            HashSet<string> sites = held.Select(r => rows[r].SiteKey).ToHashSet(StringComparer.Ordinal);
            return Enumerable.Range(0, rows.Count).Where(r => !sites.Contains(rows[r].SiteKey)).ToArray();
        })];
    }

    public IReadOnlyList<int> FoldOfRow { get; }

    public int Count { get; }

    /// <summary>How many groups (blocks or sites) were dealt out.</summary>
    public int Groups { get; }

    public IReadOnlyList<string> Names { get; }

    public IReadOnlyList<int> HeldOut(int fold) => _heldOut[fold];

    /// <summary>Rows outside the fold whose site is not in it either.</summary>
    public IReadOnlyList<int> Training(int fold) => _training[fold];

    /// <summary>The same folds for some of the rows, which may hold other values.</summary>
    /// <param name="was">The number that each of the rows had.</param>
    public CrossValidationFolds On(IReadOnlyList<TrainingRow> rows, IReadOnlyList<int> was) =>
        new(rows, [.. was.Select(r => FoldOfRow[r])], Count, Groups, Names);

    /// <summary>
    /// Whole blocks of <paramref name="blockDegrees"/> x <paramref name="blockDegrees"/>, counted from 90° S, 180° W. Largest
    /// block first, each goes to the fold that has fewest rows so far, which keeps the folds even and needs no chance.
    /// </summary>
    public static CrossValidationFolds Blocked(IReadOnlyList<TrainingRow> rows, int folds, double blockDegrees)
    {
        int[] blockOf = BlockOfRow(rows, blockDegrees);
        int blocks = blockOf.Distinct().Count();
        if (blocks < folds)
        {
            throw new PredictionException(
                Invariant($"The training sites fill {blocks} spatial blocks of {blockDegrees} degrees, expected at least {folds} ")
                + "(one a fold); choose a smaller block_degrees or fewer folds.");
        }

        return Deal(rows, GroupsOf(blockOf), folds);
    }

    /// <summary>Folds for a search inside a training part: blocks where there are enough, else sites.</summary>
    public static CrossValidationFolds Inner(IReadOnlyList<TrainingRow> rows, int folds, double blockDegrees, int seed)
    {
        int[] blockOf = BlockOfRow(rows, blockDegrees);
        int blocks = blockOf.Distinct().Count();
        return blocks >= 2 ? Deal(rows, GroupsOf(blockOf), Math.Min(folds, blocks)) : Random(rows, folds, seed);
    }

    /// <summary>Whole sites, shuffled with <paramref name="seed"/>, each to the fold that has fewest rows so far.</summary>
    public static CrossValidationFolds Random(IReadOnlyList<TrainingRow> rows, int folds, int seed)
    {
        int[][] sites = rows.Select((r, i) => (Row: i, r.SiteKey))
            .GroupBy(x => x.SiteKey, x => x.Row, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => g.ToArray())
            .ToArray();
        if (sites.Length < folds)
        {
            throw new PredictionException($"The training rows come from {sites.Length} sites, expected at least {folds} (one a fold); "
                + "accept more sites or use fewer folds.");
        }

        new Random(seed).Shuffle(sites);
        return Deal(rows, sites, folds);
    }

    /// <summary>One fold a value (a campaign, an ecosystem). Missing where there are fewer than two values, or one leaves fewer than
    /// <paramref name="fewest"/> rows to train on.</summary>
    public static CrossValidationFolds? OneOut(IReadOnlyList<TrainingRow> rows, Func<TrainingRow, string?> valueOf, int fewest)
    {
        string[] names = [.. rows.Select(r => valueOf(r) ?? "not stated").Distinct().Order(StringComparer.Ordinal)];
        if (names.Length < 2)
            return null;
        int[] foldOf = [.. rows.Select(r => Array.IndexOf(names, valueOf(r) ?? "not stated"))];
        CrossValidationFolds folds = new(rows, foldOf, names.Length, names.Length, names);
        return folds._training.All(t => t.Length >= fewest) ? folds : null;
    }

    /// <summary>Number of each row's block. A site lies in the block of its first row, so that one whose coordinates drift stays
    /// whole.</summary>
    public static int[] BlockOfRow(IReadOnlyList<TrainingRow> rows, double blockDegrees)
    {
        Dictionary<string, (int, int)> blockOfSite = new(StringComparer.Ordinal);
        foreach (TrainingRow row in rows)
            blockOfSite.TryAdd(row.SiteKey, BlockOf(row.LatitudeDegrees, row.LongitudeDegrees, blockDegrees));
        List<(int, int)> blocks = blockOfSite.Values.Distinct().Order().ToList();
        return [.. rows.Select(r => blocks.IndexOf(blockOfSite[r.SiteKey]))];
    }

    internal static (int Row, int Column) BlockOf(double latitudeDegrees, double longitudeDegrees, double blockDegrees)
    {
        // 180° E and 180° W are one meridian.
        double east = longitudeDegrees >= 180 ? longitudeDegrees - 360 : longitudeDegrees;
        return ((int)Math.Floor((latitudeDegrees + 90) / blockDegrees), (int)Math.Floor((east + 180) / blockDegrees));
    }

    private static List<int[]> GroupsOf(int[] groupOfRow) =>
        [.. groupOfRow.Select((g, r) => (Row: r, Group: g)).GroupBy(x => x.Group, x => x.Row)
            .OrderByDescending(g => g.Count()).ThenBy(g => g.Key).Select(g => g.ToArray())];

    private static CrossValidationFolds Deal(IReadOnlyList<TrainingRow> rows, IReadOnlyList<int[]> groups, int folds)
    {
        int[] foldOfRow = new int[rows.Count], size = new int[folds];
        foreach (int[] group in groups)
        {
            int smallest = Array.IndexOf(size, size.Min());
            foreach (int row in group)
                foldOfRow[row] = smallest;
            size[smallest] += group.Length;
        }
        return new(rows, foldOfRow, folds, groups.Count, []);
    }
}
