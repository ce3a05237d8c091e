namespace DecayAtlas.Pages.Charts;

/// <summary>Where one value stands among others, from the slowest to the fastest; the sentence beside it says the same.</summary>
internal static class Gauge
{
    public static Markup Draw(double share, string low, string high)
    {
        const double Width = 300, Left = 10, Right = 290, Middle = 13;
        double x = Left + share * (Right - Left);
        return Markup.Of(
            $"""
            <svg class="chart gauge" viewBox="0 0 {Width} 42" aria-hidden="true"><rect class="wide" x="{Left}" y="{Middle - 5}" width="{Right - Left}" height="10" rx="5"/><rect class="half-box" x="{Left + (Right - Left) / 4}" y="{Middle - 5}" width="{(Right - Left) / 2}" height="10"/><path class="own" d="M{x} {Middle - 10}l10 10l-10 10l-10 -10z"/><text class="tick" x="{Left}" y="38">{low}</text><text class="tick" text-anchor="end" x="{Right}" y="38">{high}</text></svg>

            """);
    }
}
