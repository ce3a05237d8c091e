namespace DecayAtlas.Contributions.Sheets;

internal static class HtmlTables
{
    public static bool Is(ReadOnlySpan<byte> bytes) => false;

    public static SeenFile? Read(string path, ReadOnlySpan<byte> held, IntakeLimits limits, FindingList findings) => null;
}
