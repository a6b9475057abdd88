await Console.Error.WriteLineAsync("No cars are defined yet.").ConfigureAwait(false);
return 2;
