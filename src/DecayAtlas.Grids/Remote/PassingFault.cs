namespace DecayAtlas.Grids.Remote;

/// <summary>What may be otherwise when it is asked for again: no answer, half of one, a busy host.</summary>
internal sealed class PassingFault(string said, Exception? cause = null) : Exception(said, cause)
{
    public string Said => Message;
}
