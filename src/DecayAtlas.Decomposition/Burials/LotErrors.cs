namespace DecayAtlas.Decomposition.Burials;

/// <summary>Signed change of a result for one standard uncertainty of each quantity that all bags of a lot share. Burials made from the
/// same lots move together, so these are averaged with their signs before they are squared.</summary>
public readonly record struct LotErrors(double FastHydrolysable, double SlowHydrolysable, double FastAsh, double SlowAsh)
{
    /// <summary>The four quantities are independent of one another.</summary>
    public double Uncertainty => Math.Sqrt(
        FastHydrolysable * FastHydrolysable + SlowHydrolysable * SlowHydrolysable + FastAsh * FastAsh + SlowAsh * SlowAsh);
}
