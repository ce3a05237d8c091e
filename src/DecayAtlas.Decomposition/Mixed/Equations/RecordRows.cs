namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>Rows of W of one record over the unknowns it touches, one an outcome.</summary>
internal sealed class RecordRows
{
    public double[] First { get; private set; } = new double[64];

    public double[] Second { get; private set; } = new double[64];

    public void Reserve(int width)
    {
        if (First.Length < width)
            (First, Second) = (new double[2 * width], new double[2 * width]);
    }

    /// <summary>0 where the record has no such outcome.</summary>
    public void Fill(MixedDesign design, double[] loadings, int record)
    {
        MixedDesign.Pattern pattern = design.PatternOf[record];
        MixedRecord r = design.Records[record];
        int m = pattern.Unknowns.Length, width = design.Width;
        Reserve(m);
        bool hasFirst = r.First is not null, hasSecond = design.Outcomes > 1 && r.Second is not null;
        for (int a = 0; a < m; a++)
        {
            int kind = pattern.Kinds[a], part = pattern.Parts[a];
            double first, second;
            if (kind >= 0)
            {
                first = loadings[4 * kind + part];
                second = loadings[4 * kind + 2 + part];
            }
            else if (kind == -1)
            {
                SharedLoading s = r.Shared[part];
                first = s.OnFirst / design.Scale[0];
                second = s.OnSecond / design.Scale[1];
            }
            else
            {
                first = part < width ? r.FixedEffects[part] : 0;
                second = part >= width ? r.FixedEffects[part - width] : 0;
            }

            First[a] = hasFirst ? first : 0;
            Second[a] = hasSecond ? second : 0;
        }
    }
}
