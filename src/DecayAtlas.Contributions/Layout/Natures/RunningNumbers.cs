namespace DecayAtlas.Contributions.Layout.Natures;

/// <summary>The numbers of a column so far.</summary>
internal record struct RunningNumbers(int Count, double Sum, double Squares)
{
    public readonly double Mean => Sum / Count;

    public readonly double Deviation => Count < 2 ? 0 : Math.Sqrt(Math.Max(0, Squares - Sum * Sum / Count) / (Count - 1));

    public void Add(double number) => (Count, Sum, Squares) = (Count + 1, Sum + number, Squares + number * number);

    /// <summary>Whether the numbers of a row are all the means, all the sums or all the standard deviations of those above.</summary>
    public static bool AreComputed(CellNumber?[] row, RunningNumbers[] above)
    {
        bool hasAny = false, isMean = true, isSum = true, isSd = true;
        for (int i = 0; i < row.Length; i++)
        {
            if (row[i] is not { } number)
                continue;
            if (above[i].Count < 2)
                return false;
            hasAny = true;
            isMean &= number.Is(above[i].Mean);
            isSum &= number.Is(above[i].Sum);
            isSd &= number.Is(above[i].Deviation);
        }
        return hasAny && (isMean || isSum || isSd);
    }

    /// <summary>How likely a row of measurements of its own would hold the means of those above, or their sums, in all columns at once;
    /// 1 where it does not.</summary>
    /// <param name="columns">Those that are measured.</param>
    /// <param name="least">How many of them must have a number.</param>
    public static double ChanceOf(CellNumber?[] row, RunningNumbers[] above, int[] columns, int least)
    {
        double mean = 1, sum = 1;
        int means = 0, sums = 0;
        foreach (int i in columns)
        {
            if (row[i] is not { } number)
                continue;
            double spread = above[i].Deviation;
            // of what is the same in all rows nothing can be told
            if (above[i].Count < 2 || spread <= 1e-9 * Math.Abs(above[i].Mean))
                continue;
            // the density of a normal distribution there, times the width of what is rounded to this number
            double from = (number.Value - above[i].Mean) / spread;
            double chance = Math.Min(1, 1.02 * number.Step / (spread * Math.Sqrt(2 * Math.PI)) * Math.Exp(-from * from / 2));
            if (number.Is(above[i].Mean))
                (mean, means) = (mean * chance, means + 1);
            else
                means = int.MinValue;
            if (number.Is(above[i].Sum))
                (sum, sums) = (sum * chance, sums + 1);
            else
                sums = int.MinValue;
        }
        return Math.Min(means >= least ? mean : 1, sums >= least ? sum : 1);
    }
}
