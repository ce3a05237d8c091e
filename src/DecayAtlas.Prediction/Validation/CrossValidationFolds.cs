using System.Globalization;

namespace DecayAtlas.Prediction;

/// <summary>
/// Which fold holds each row out. A site is never split: sites that return in many campaigns would otherwise let a model
/// recall the answer instead of predicting it.
/// </summary>
/// <param name="FoldOfRow">Fold number (0-based) of each row.</param>
/// <param name="Count">Number of folds.</param>
/// <param name="Groups">How many groups (blocks or sites) were dealt out.</param>
internal sealed record CrossValidationFolds(IReadOnlyList<int> FoldOfRow, int Count, int Groups)
{
    public IEnumerable<int> HeldOut(int fold) => Enumerable.Range(0, FoldOfRow.Count).Where(r => FoldOfRow[r] == fold);

    public IEnumerable<int> Training(int fold) => Enumerable.Range(0, FoldOfRow.Count).Where(r => FoldOfRow[r] != fold);

    /// <summary>
    /// Whole blocks of <paramref name="blockDegrees"/> x <paramref name="blockDegrees"/>, counted from 90° S, 180° W. Largest
    /// block first, each goes to the fold that has fewest rows so far, which keeps the folds even and needs no chance.
    /// A site lies in the block of its first row, so that a site whose coordinates drift stays whole.
    /// </summary>
    public static CrossValidationFolds Blocked(IReadOnlyList<TrainingRow> rows, int folds, double blockDegrees)
    {
        var blockOfSite = new Dictionary<string, (int, int)>(StringComparer.Ordinal);
        foreach (var row in rows)
            blockOfSite.TryAdd(row.SiteKey, BlockOf(row.LatitudeDegrees, row.LongitudeDegrees, blockDegrees));
        var blocks = rows.Select((r, i) => (Row: i, Block: blockOfSite[r.SiteKey]))
            .GroupBy(x => x.Block, x => x.Row)
            .OrderByDescending(g => g.Count()).ThenBy(g => g.Key)
            .Select(g => g.ToList())
            .ToList();
        if (blocks.Count < folds)
            throw new PredictionException(string.Create(
                CultureInfo.InvariantCulture,
                $"The training sites fill {blocks.Count} spatial blocks of {blockDegrees} degrees, expected at least {folds} (one a fold); choose a smaller block_degrees or fewer folds."));
        return Deal(blocks, rows.Count, folds);
    }

    /// <summary>Whole sites, shuffled with <paramref name="seed"/>, each to the fold that has fewest rows so far.</summary>
    public static CrossValidationFolds Random(IReadOnlyList<TrainingRow> rows, int folds, int seed)
    {
        var sites = rows.Select((r, i) => (Row: i, r.SiteKey))
            .GroupBy(x => x.SiteKey, x => x.Row, StringComparer.Ordinal)
            .OrderBy(g => g.Key, StringComparer.Ordinal)
            .Select(g => g.ToList())
            .ToArray();
        if (sites.Length < folds)
            throw new PredictionException(string.Create(
                CultureInfo.InvariantCulture,
                $"The training rows come from {sites.Length} sites, expected at least {folds} (one a fold); accept more sites or use fewer folds."));
        new Random(seed).Shuffle(sites);
        return Deal(sites, rows.Count, folds);
    }

    internal static (int Row, int Column) BlockOf(double latitudeDegrees, double longitudeDegrees, double blockDegrees)
    {
        // 180° E and 180° W are one meridian.
        double east = longitudeDegrees >= 180 ? longitudeDegrees - 360 : longitudeDegrees;
        return ((int)Math.Floor((latitudeDegrees + 90) / blockDegrees), (int)Math.Floor((east + 180) / blockDegrees));
    }

    private static CrossValidationFolds Deal(IReadOnlyList<List<int>> groups, int rowCount, int folds)
    {
        var foldOfRow = new int[rowCount];
        var size = new int[folds];
        foreach (var group in groups)
        {
            int smallest = Array.IndexOf(size, size.Min());
            foreach (int row in group)
                foldOfRow[row] = smallest;
            size[smallest] += group.Count;
        }
        return new(foldOfRow, folds, groups.Count);
    }
}
