package store

func childWork() {}
