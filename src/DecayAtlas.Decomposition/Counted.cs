namespace DecayAtlas.Decomposition;

/// <summary>A number with what it counts: one site, two sites.</summary>
public static class Counted
{
    public static string Of(int n, string what) => $"{n} {what}{(n == 1 ? "" : "s")}";
}
