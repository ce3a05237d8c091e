namespace DecayAtlas.Decomposition.Mixed.Equations;

/// <summary>
/// The numbers the search moves: for each factor, and last for the residual, the entries of a loading Λ with covariance G = Λ Λᵀ. That
/// holds whatever is not positive definite, so that a variance of zero needs no bound.
/// </summary>
/// <remarks>Source: Bates, Mächler, Bolker and Walker 2015, J. Statistical Software 67(1), 2.2.</remarks>
internal sealed class MixedParameters
{
    /// <param name="lead">The outcome whose variance in a block is the square of one number.</param>
    public MixedParameters(MixedDesign design, int lead = 0)
    {
        Blocks = design.Factors.Length + 1;
        Lead = lead;
        List<int> places = new();
        for (int b = 0; b < Blocks; b++)
        {
            int? only = b < design.Factors.Length ? design.Factors[b].OnlyOutcome : null;
            int other = 1 - lead;
            if (design.Outcomes == 1)
            {
                places.Add(Place(b, 0, 0));
                continue;
            }

            if (only != other)
                places.Add(Place(b, lead, lead));
            if (only is null)
                places.Add(Place(b, other, lead));
            if (only != lead)
                places.Add(Place(b, other, other));
        }

        Places = [.. places];
    }

    /// <summary>Factors and the residual.</summary>
    public int Blocks { get; }

    public int Lead { get; }

    /// <summary>Where each number stands among the entries of all loadings.</summary>
    public int[] Places { get; }

    public static int Place(int block, int row, int column) => 4 * block + 2 * row + column;

    public static bool IsDiagonal(int place) => place % 4 is 0 or 3;

    public double[] Loadings(ReadOnlySpan<double> numbers)
    {
        double[] loadings = new double[4 * Blocks];
        for (int j = 0; j < Places.Length; j++)
            loadings[Places[j]] = numbers[j];
        return loadings;
    }

    /// <summary>The numbers that give the covariances of other loadings.</summary>
    public double[] NumbersOf(double[] loadings) => NumbersOf([.. Enumerable.Range(0, Blocks).Select(b => CovarianceOf(loadings, b))]);

    public double[] LoadingsOf(OutcomeCovariance[] covariances) => Loadings(NumbersOf(covariances));

    private double[] NumbersOf(OutcomeCovariance[] covariances)
    {
        double[] all = new double[4 * Blocks];
        int other = 1 - Lead;
        for (int b = 0; b < Blocks; b++)
        {
            OutcomeCovariance g = covariances[b];
            double leading = Lead == 0 ? g.First : g.Second, rest = Lead == 0 ? g.Second : g.First;
            double root = Math.Sqrt(leading), cross = root > 0 ? g.Cross / root : 0;
            all[Place(b, Lead, Lead)] = root;
            all[Place(b, other, Lead)] = cross;
            all[Place(b, other, other)] = Math.Sqrt(Math.Max(0, rest - cross * cross));
        }

        return [.. Places.Select(p => all[p])];
    }

    public static OutcomeCovariance CovarianceOf(ReadOnlySpan<double> loadings, int block)
    {
        double a = loadings[4 * block], b = loadings[4 * block + 1], c = loadings[4 * block + 2], d = loadings[4 * block + 3];
        return new OutcomeCovariance(a * a + b * b, a * c + b * d, c * c + d * d);
    }
}
