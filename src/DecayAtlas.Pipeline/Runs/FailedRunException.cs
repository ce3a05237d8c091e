namespace DecayAtlas.Pipeline.Runs;

/// <summary>A stage failed, or a plan of a run. The cause is the inner exception; the record tells what the run did before.</summary>
/// <param name="record">Missing for a plan, which does nothing.</param>
public sealed class FailedRunException(RunRecord? record, Exception cause) : Exception(RunFailure.Sentence(cause), cause)
{
    public RunRecord? Record { get; } = record;
}

/// <summary>
/// What a failed run says of its failure. It is mailed and recorded: sentences of ours stand as they are, since they hold nothing that
/// a sender typed; of anything else only the kind is told, for the words of the runtime may quote a name or a cell.
/// </summary>
public static class RunFailure
{
    public static string Sentence(Exception failure) => failure switch
    {
        AggregateException { InnerExceptions.Count: > 0 } many => Sentence(many.Flatten().InnerExceptions[0]),
        ConfigurationException or YamlDocumentException or AtlasBusyException => failure.Message,
        GridException or ContributionException or LostContributionsException or StorageException or PredictionException or PagesException =>
            failure.Message,
        IOException or UnauthorizedAccessException =>
            $"A file could not be read or written ({failure.GetType().Name}): {StorageFault.PlainReason(failure)}.",
        OutOfMemoryException => "Memory ran out.",
        _ => $"DecayAtlas made a mistake ({OurMistake.Of(failure)}).",
    };
}
