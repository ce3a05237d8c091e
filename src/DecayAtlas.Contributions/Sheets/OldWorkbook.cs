namespace DecayAtlas.Contributions.Sheets;

internal static class OldWorkbook
{
    public static SeenFile? Read(string path, MemoryStream held, IntakeLimits limits, FindingList findings) => null;
}
