namespace DecayAtlas.Contributions;

/// <summary>Reads a contribution from a folder or a .zip and checks all of it. Whatever is wrong inside becomes a finding.</summary>
public static class ContributionReader
{
    /// <summary>Reads and checks one contribution.</summary>
    /// <param name="path">A folder or a .zip.</param>
    public static ReadResult Read(string path, IntakeLimits limits)
    {
        using PackageReading reading = PackageReading.Begin(path, limits);
        return reading.Complete();
    }
}
