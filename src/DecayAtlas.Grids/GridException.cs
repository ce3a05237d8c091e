namespace DecayAtlas.Grids;

/// <summary>
/// A grid or a grid catalogue cannot be used. The message is one sentence for the user: which file, what was
/// found, what was expected, how to mend it.
/// </summary>
public sealed class GridException(string message, Exception? innerException = null) : Exception(message, innerException)
{
    /// <summary>What is said where the disk does not give a file.</summary>
    internal static GridException Unreadable(string path, IOException cause) =>
        new($"{path} cannot be read: {cause.Message.TrimEnd('.')}.", cause);
}
