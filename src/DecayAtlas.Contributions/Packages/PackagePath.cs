namespace DecayAtlas.Contributions.Packages;

internal static class PackagePath
{
    private const int Longest = 1000;

    /// <summary>Why a path may not be used, or null when it stays inside the contribution on every system.</summary>
    public static string? WhyUnsafe(string path)
    {
        if (path.Length == 0)
            return "which is empty";
        if (path.Length > Longest)
            return Invariant($"which has {path.Length} letters, more than {Longest}");
        if (HalfLetter.IsIn(path))
            return "which holds half a letter";
        if (path.Any(ReceivedText.IsHostile))
            return "which holds a control character or a mark that turns the direction of writing";
        if (path.Contains('\\', StringComparison.Ordinal))
            return "which uses backslashes";
        if (path[0] == '/')
            return "which is absolute";
        if (path.Contains(':', StringComparison.Ordinal))
            return "which holds a colon, as a drive letter does";
        if (path.Split('/').Contains(".."))
            return "which leads out of the contribution";
        return null;
    }
}
