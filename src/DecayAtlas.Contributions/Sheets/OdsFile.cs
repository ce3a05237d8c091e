namespace DecayAtlas.Contributions.Sheets;

internal static class OdsFile
{
    public static bool Is(Stream zip) => false;

    public static SeenFile? Read(string path, MemoryStream held, IntakeLimits limits, FindingList findings) => null;
}
