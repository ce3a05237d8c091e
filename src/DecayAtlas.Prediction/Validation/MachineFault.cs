namespace DecayAtlas.Prediction.Validation;

/// <summary>Memory or storage that failed: no fault of what was being done, and the next thing would fail too.</summary>
internal static class MachineFault
{
    /// <summary>The fault of the machine in what was thrown, however often it was wrapped; missing where there is none.</summary>
    public static Exception? In(Exception thrown) => thrown switch
    {
        OutOfMemoryException or IOException or UnauthorizedAccessException => thrown,
        AggregateException many => many.InnerExceptions.Select(In).FirstOrDefault(fault => fault is not null),
        { InnerException: { } inner } => In(inner),
        _ => null,
    };
}
