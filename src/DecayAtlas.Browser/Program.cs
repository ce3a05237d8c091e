using System.Runtime.Versioning;

[assembly: SupportedOSPlatform("browser")]

namespace DecayAtlas.Browser;

internal static class Program
{
    /// <summary>Nothing runs by itself; the page calls <see cref="Exports"/>.</summary>
    public static void Main() { }
}
