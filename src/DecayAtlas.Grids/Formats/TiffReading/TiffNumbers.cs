namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>The numbers of one tag: read at once from a disk, and one by one, as they are asked for, from a file far away.</summary>
internal sealed class TiffNumbers(TiffDirectory directory, int tag)
{
    private readonly double[]? _all = directory.IsFar ? null : directory.Numbers(tag);

    public double this[int index] => _all is null ? directory.Number(tag, index) : _all[index];

    /// <summary>Fetches those that will be asked for, where that is cheaper together.</summary>
    public void Prepare(IEnumerable<int> indexes)
    {
        if (_all is null)
            directory.Prepare(tag, indexes);
    }
}
