namespace DecayAtlas.Grids;

/// <summary>
/// A grid or a grid catalogue cannot be used. The message is one sentence for the user: which file, what was
/// found, what was expected, how to mend it.
/// </summary>
public sealed class GridException(string message, Exception? innerException = null) : Exception(message, innerException)
{
    /// <summary>What of several grids that failed side by side is told: the same one whatever the order; missing where none is of a
    /// grid.</summary>
    public static GridException? FirstOf(AggregateException many) =>
        many.InnerExceptions.OfType<GridException>().MinBy(e => e.Message, StringComparer.Ordinal);

    /// <summary>What is said where the disk does not give a file.</summary>
    internal static GridException Unreadable(string path, IOException cause) =>
        new($"{path} cannot be read: {cause.Message.TrimEnd('.')}.", cause);
}
