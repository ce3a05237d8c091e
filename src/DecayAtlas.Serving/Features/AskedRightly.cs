namespace DecayAtlas.Serving.Features;

/// <summary>Answers, or says in one sentence with status 400 what is wrong with the parameters.</summary>
internal static class AskedRightly
{
    public static async Task AnswerAsync(HttpContext http, Func<Task> answer)
    {
        try
        {
            await answer();
        }
        catch (QueryFaultException fault)
        {
            await Problem.WriteAsync(http, Status400BadRequest, fault.Message);
        }
    }

    /// <param name="but">A parameter that may be there all the same.</param>
    /// <exception cref="QueryFaultException">There is one.</exception>
    public static void RequireNoParameters(HttpContext http, string? but = null)
    {
        if (http.Request.Query.Keys.FirstOrDefault(key => key != but) is { } unknown)
        {
            throw new QueryFaultException(
                $"There is no parameter {QueryFaultException.Quoted(unknown)} here; this resource takes none.");
        }
    }
}
