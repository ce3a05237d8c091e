namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>
/// Records as the equations take them: outcomes over their scale, units and shared quantities numbered, the structure of the matrix.
/// </summary>
/// <remarks>Whatever few records hold is eliminated first (plots before sites before lots), the fixed effects last: a fixed order that
/// fills in little where units are nested.</remarks>
internal sealed class MixedDesign
{
    /// <summary>Which of the unknowns a record touches, in their order, and what each is.</summary>
    /// <param name="Kinds">Number of a factor; -1 a shared quantity; -2 a fixed effect.</param>
    /// <param name="Parts">Column of a factor's loading; number of the record's shared quantity; outcome times width plus column of
    /// X.</param>
    internal sealed record Pattern(int[] Unknowns, int[] Kinds, int[] Parts)
    {
        /// <summary>Of the pairs of unknowns in the matrix, column by column from the diagonal down.</summary>
        public int[] Places { get; set; } = [];
    }

    public MixedDesign(IReadOnlyList<MixedRecord> records, IReadOnlyList<MixedFactor> factors, int outcomes)
    {
        Outcomes = outcomes;
        Factors = [.. factors];
        // a fixed order, so that the order of the rows can't change the last digit of a sum
        MixedRecord[] sorted = [.. records
            .OrderBy(r => string.Join('\u001f', r.Units.Select(u => u ?? "\u001e")), StringComparer.Ordinal)
            .ThenBy(r => r.First).ThenBy(r => r.Second).ThenBy(r => r.Count).ThenBy(r => r.Error.First)];
        Width = records[0].FixedEffects.Count;
        Scale = [.. Enumerable.Range(0, 2).Select(o => o < outcomes ? ScaleOf(o) : 1)];
        Told = sorted;
        Records = SharedQuantities.Reduce(sorted, Scale, outcomes);
        Observations = Records.Sum(r => r.Count * ((r.First is null ? 0 : 1) + (outcomes > 1 && r.Second is not null ? 1 : 0)));
        UnitNames = [.. factors.Select((_, f) =>
            Records.Select(r => r.Units[f]).OfType<string>().Distinct(StringComparer.Ordinal).Order(StringComparer.Ordinal).ToArray())];
        UnitOf = [.. factors.Select((_, f) =>
        {
            Dictionary<string, int> numbers = Numbers(UnitNames[f]);
            return Records.Select(r => r.Units[f] is { } name ? numbers[name] : -1).ToArray();
        })];
        string[] quantities = [.. Records.SelectMany(r => r.Shared).Select(s => s.Quantity).Distinct(StringComparer.Ordinal)
            .Order(StringComparer.Ordinal)];
        Dictionary<string, int> quantityOf = Numbers(quantities);

        int[][] shared = [.. Records.Select(r => r.Shared.Select(s => quantityOf[s.Quantity]).ToArray())];
        (FirstUnknown, int[] firstOfQuantity, FixedStart) = Number(quantities.Length, shared);
        Size = FixedStart + outcomes * Width;
        (Structure, PatternOf) = Build(shared, firstOfQuantity);

        double ScaleOf(int outcome)
        {
            double[] values = [.. sorted.Select(r => outcome == 0 ? r.First : r.Second).OfType<double>()];
            double mean = values.Average();
            double within = sorted.Sum(r => outcome == 0 ? r.SumsOfSquares.First : r.SumsOfSquares.Second);
            return Math.Sqrt((values.Sum(v => (v - mean) * (v - mean)) + within) / sorted.Sum(r => r.Count));
        }
    }

    /// <summary>1 or 2.</summary>
    public int Outcomes { get; }

    public MixedFactor[] Factors { get; }

    public MixedRecord[] Records { get; private set; }

    /// <summary>The same, in the same order, with the shared quantities as they were told.</summary>
    public MixedRecord[] Told { get; }

    /// <summary>What each outcome is divided by.</summary>
    public double[] Scale { get; }

    /// <summary>Columns of X.</summary>
    public int Width { get; }

    /// <summary>Values, burials behind means counted one by one.</summary>
    public int Observations { get; }

    public string[][] UnitNames { get; }

    /// <summary>By factor and record; -1 where a record has no unit.</summary>
    public int[][] UnitOf { get; }

    /// <summary>By factor and unit: the unknown of its first outcome; that of the second follows.</summary>
    public int[][] FirstUnknown { get; }

    /// <summary>Where the fixed effects begin: those of the first outcome, then those of the second.</summary>
    public int FixedStart { get; }

    public int Size { get; }

    public SparseStructure Structure { get; }

    public Pattern[] PatternOf { get; }

    /// <summary>The same with other values and errors in the same places.</summary>
    public MixedDesign With(MixedRecord[] records)
    {
        MixedDesign other = (MixedDesign)MemberwiseClone();
        other.Records = records;
        return other;
    }

    private static Dictionary<string, int> Numbers(string[] names) =>
        names.Select((name, i) => (name, i)).ToDictionary(x => x.name, x => x.i, StringComparer.Ordinal);

    private (int[][] OfUnits, int[] OfQuantities, int End) Number(int quantities, int[][] shared)
    {
        int[][] unitCounts = [.. UnitNames.Select(u => new int[u.Length])];
        int[] quantityCounts = new int[quantities];
        for (int i = 0; i < Records.Length; i++)
        {
            for (int f = 0; f < Factors.Length; f++)
            {
                if (UnitOf[f][i] is >= 0 and int unit)
                    unitCounts[f][unit]++;
            }

            foreach (int q in shared[i])
                quantityCounts[q]++;
        }

        (int Count, int Kind, int Number)[] order =
        [
            .. unitCounts.SelectMany((counts, f) => counts.Select((c, u) => (c, f, u)))
                .Concat(quantityCounts.Select((c, q) => (c, Factors.Length, q)))
                .OrderBy(x => x.Item1).ThenByDescending(x => x.Item2 < Factors.Length ? UnitNames[x.Item2].Length : quantities)
                .ThenBy(x => x.Item2).ThenBy(x => x.Item3),
        ];
        int[][] ofUnits = [.. UnitNames.Select(u => new int[u.Length])];
        int[] ofQuantities = new int[quantities];
        int next = 0;
        foreach ((_, int kind, int number) in order)
        {
            if (kind < Factors.Length)
            {
                ofUnits[kind][number] = next;
                next += Outcomes;
            }
            else
            {
                ofQuantities[number] = next++;
            }
        }

        return (ofUnits, ofQuantities, next);
    }

    private (SparseStructure Structure, Pattern[] OfRecords) Build(int[][] shared, int[] firstOfQuantity)
    {
        Dictionary<string, Pattern> patterns = new(StringComparer.Ordinal);
        Pattern[] ofRecords = new Pattern[Records.Length];
        for (int i = 0; i < Records.Length; i++)
        {
            int[] units = [.. Factors.Select((_, f) => UnitOf[f][i])];
            string key = string.Join(',', units.Concat(shared[i]));
            if (!patterns.TryGetValue(key, out Pattern? pattern))
                patterns[key] = pattern = Touched(units, shared[i], firstOfQuantity);
            ofRecords[i] = pattern;
        }

        SparseStructure structure = new(Size, patterns.Values.Select(p => p.Unknowns));
        foreach (Pattern pattern in patterns.Values)
        {
            int m = pattern.Unknowns.Length, next = 0;
            pattern.Places = new int[m * (m + 1) / 2];
            for (int column = 0; column < m; column++)
            {
                for (int row = column; row < m; row++)
                    pattern.Places[next++] = structure.PlaceOf(pattern.Unknowns[row], pattern.Unknowns[column]);
            }
        }

        return (structure, ofRecords);
    }

    private Pattern Touched(int[] units, int[] shared, int[] firstOfQuantity)
    {
        List<(int Unknown, int Kind, int Part)> touched = new();
        for (int f = 0; f < units.Length; f++)
        {
            for (int o = 0; o < Outcomes && units[f] >= 0; o++)
                touched.Add((FirstUnknown[f][units[f]] + o, f, o));
        }

        for (int s = 0; s < shared.Length; s++)
            touched.Add((firstOfQuantity[shared[s]], -1, s));
        for (int x = 0; x < Outcomes * Width; x++)
            touched.Add((FixedStart + x, -2, x));
        touched.Sort();
        return new Pattern([.. touched.Select(t => t.Unknown)], [.. touched.Select(t => t.Kind)], [.. touched.Select(t => t.Part)]);
    }
}
