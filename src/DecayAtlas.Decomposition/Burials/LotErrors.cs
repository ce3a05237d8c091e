namespace DecayAtlas.Decomposition.Burials;

/// <summary>
/// Signed change of a result for one standard uncertainty of each quantity that all bags of a lot share.
/// Signs matter: burials made from the same lots move together, so these are averaged with their signs before they are squared.
/// </summary>
/// <param name="FastHydrolysable">Effect of the fast lot's hydrolysable fraction.</param>
/// <param name="SlowHydrolysable">Effect of the slow lot's hydrolysable fraction.</param>
/// <param name="FastAsh">Effect of the fast lot's ash share.</param>
/// <param name="SlowAsh">Effect of the slow lot's ash share.</param>
public readonly record struct LotErrors(double FastHydrolysable, double SlowHydrolysable, double FastAsh, double SlowAsh)
{
    /// <summary>Combined standard uncertainty of one result: the four quantities are independent of one another.</summary>
    public double Uncertainty => Math.Sqrt(
        FastHydrolysable * FastHydrolysable + SlowHydrolysable * SlowHydrolysable + FastAsh * FastAsh + SlowAsh * SlowAsh);
}
