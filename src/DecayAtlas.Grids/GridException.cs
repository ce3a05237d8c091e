namespace DecayAtlas.Grids;

/// <summary>
/// A grid or a grid catalogue cannot be used. The message is one sentence for the user: which file, what was
/// found, what was expected, how to mend it.
/// </summary>
public sealed class GridException : Exception
{
    public GridException()
    {
    }

    public GridException(string message)
        : base(message)
    {
    }

    public GridException(string message, Exception? innerException)
        : base(message, innerException)
    {
    }
}
