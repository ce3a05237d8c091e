namespace DecayAtlas.Prediction.Trained;

/// <summary>Numbers the classes of a training set, and joins those with too few rows.</summary>
/// <remarks>
/// A class of few rows would be told by what these rows happen to be off by; one that lies in one or two blocks by what else is so there.
/// Below 10 rows or 3 blocks (common practice, no source) it is joined to "other"; where even these do not come to as many together, their
/// rows are left out.
/// </remarks>
public static class ClassRows
{
    /// <summary>The set with the place of its class in each row, where it had the name of one.</summary>
    /// <param name="blockDegrees">Side of a block.</param>
    public static TrainingSet Numbered(TrainingSet set, double blockDegrees)
    {
        int[] classes = [.. Enumerable.Range(0, set.Covariates.Count).Where(c => set.Covariates[c].IsClass)];
        if (classes.Length == 0)
            return set;
        List<RareClass> rare = [];
        bool[] isIn = [.. set.Rows.Select(_ => true)];
        Dictionary<int, CovariateClasses> found = [];
        // rows that are left out for one covariate may make a class of another rare
        for (int before = -1; before != rare.Count;)
        {
            before = rare.Count;
            foreach (int c in classes)
                found[c] = ClassesOf(set, c, blockDegrees, isIn, rare);
        }

        return set with
        {
            Covariates = [.. set.Covariates.Select((info, c) => info.IsClass ? info with { Classes = found[c] } : info)],
            Rows = [.. set.Rows.Where((_, r) => isIn[r]).Select(Numbered)],
            WithoutNoted = set.WithoutNoted is { } left ? [.. left.Where((_, r) => isIn[r]).Select(r => r is null ? null : Numbered(r))]
                : null,
            RareClasses =
            [
                .. found.OrderBy(f => f.Key).SelectMany(f => f.Value.Joined
                    .Select(name => new RareClass(set.Covariates[f.Key].Name, name, RowsOf(set, f.Key, name, isIn), true))),
                .. rare.OrderBy(r => r.Covariate, StringComparer.Ordinal).ThenBy(r => r.Class, StringComparer.Ordinal),
            ],
        };

        TrainingRow Numbered(TrainingRow row) => row with
        {
            Covariates = [.. row.Covariates.Select((x, c) => row.Classes[c] is { } name ? found[c].PlaceOf(name) : x)],
            Classes = [],
        };
    }

    private static CovariateClasses ClassesOf(TrainingSet set, int covariate, double blockDegrees, bool[] isIn, List<RareClass> rare)
    {
        int[] blockOf = CrossValidationFolds.BlockOfRow(set.Rows, blockDegrees);
        (string Name, int[] Rows)[] all =
        [
            .. Enumerable.Range(0, set.Rows.Count).Where(r => isIn[r])
                .GroupBy(r => CovariateClasses.KeyOf(set.Rows[r].Classes[covariate]!), StringComparer.Ordinal)
                .Select(g => (CovariateClasses.SpellingOf(g.Select(r => set.Rows[r].Classes[covariate]!)), g.ToArray()))
                .OrderBy(x => x.Item1, StringComparer.Ordinal),
        ];
        (string Name, int[] Rows)[] few = [.. all.Where(x => IsFew(x.Rows))];
        string other = CovariateClasses.KeyOf(CovariateClasses.Other);
        (string Name, int[] Rows)[] joined = few.Length == 0 ? []
            : [.. all.Where(x => IsFew(x.Rows) || CovariateClasses.KeyOf(x.Name) == other)];
        bool areEnough = !IsFew([.. joined.SelectMany(x => x.Rows)]);
        if (!areEnough)
        {
            foreach ((string name, int[] rows) in few)
            {
                rare.Add(new RareClass(set.Covariates[covariate].Name, name, rows.Length, false));
                foreach (int row in rows)
                    isIn[row] = false;
            }

            joined = [];
        }

        (string Name, int Rows)[] kept =
        [
            .. all.Except(few).Except(joined).Select(x => (x.Name, x.Rows.Length))
                .Concat(joined.Length == 0 ? [] : [(CovariateClasses.Other, joined.Sum(x => x.Rows.Length))])
                .OrderBy(x => x.Item1, StringComparer.Ordinal),
        ];
        return new([.. kept.Select(x => x.Name)], [.. joined.Select(x => x.Name).Where(n => CovariateClasses.KeyOf(n) != other)],
            [.. kept.Select(x => x.Rows)]);

        bool IsFew(int[] rows) => rows.Length < CovariateClasses.FewestRows
            || rows.Select(r => blockOf[r]).Distinct().Count() < CovariateClasses.FewestBlocks;
    }

    private static int RowsOf(TrainingSet set, int covariate, string name, bool[] isIn) => set.Rows
        .Where((r, at) => isIn[at] && CovariateClasses.KeyOf(r.Classes[covariate]!) == CovariateClasses.KeyOf(name)).Count();
}
